import { fromRfc3339 } from '../units/time.ts';
import { batchTold, splitInto } from './batch-told.ts';
import type { ActKind, EntryOf, Lot } from './entry.ts';
import { withEntry } from './map.ts';
import { isAct, type Batch, type Drum, type Shed, type StoryAct } from './shed.ts';

/** How a batch's story grows: opened, acts written, acts corrected, parts split off. */
export const openBatch = (shed: Shed, entry: EntryOf<'batch-opened'>): Shed => {
  const { body } = entry;
  const drum = shed.drums.get(body.drum);
  if (drum === undefined || shed.batches.has(body.lot)) return shed;
  const batch: Batch = {
    lot: body.lot,
    drum: body.drum,
    pickedAt: fromRfc3339(body.pickedAt),
    startedAt: fromRfc3339(body.startedAt),
    cut: body.cut,
    style: body.style,
    maturity: body.maturity,
    variety: body.variety ?? null,
    trees: body.trees ?? null,
    fruitKg: body.fruitKg,
    brineL: body.brineL,
    saltGPerL: body.saltGPerL,
    acid: body.acid ?? null,
    lots: body.lots ?? [],
    opened: { drum: body.drum, fruitKg: body.fruitKg, brineL: body.brineL, picks: body.picks ?? [] },
    picks: body.picks ?? [],
    soak: body.soak ?? null,
    lineage: [body.lot],
    from: null,
    stays: [],
    openedBy: entry.who,
    sequence: entry.sequence,
    written: [],
    acts: [],
    jarredAt: null,
  };
  const opened = batchTold(batch, null);
  return { ...shed, batches: withEntry(shed.batches, body.lot, opened), drums: withEntry(shed.drums, drum.id, { ...drum, lot: body.lot, revision: entry.sequence }) };
};

export const writeAct = (shed: Shed, entry: EntryOf<ActKind>): Shed => {
  const batch = shed.batches.get(entry.body.lot);
  // A part is a new lot.
  if (entry.kind === 'split' && (shed.batches.has(entry.body.into) || shed.retiredLots.has(entry.body.into))) return shed;
  return batch === undefined ? shed : grow(shed, batch, [...batch.written, actOf(entry)], entry.sequence);
};

/** The mistaken act stays in the story, no longer standing; the replacement stands as an act of its own. */
export const correctAct = (shed: Shed, entry: EntryOf<'corrected'>): Shed => {
  const { replacement } = entry.body;
  const batch = [...shed.batches.values()].find(({ written }) => written.some(({ sequence, standing }) => sequence === entry.body.entry && standing));
  if (batch === undefined) return shed;
  const wrong = batch.written.find(({ sequence }) => sequence === entry.body.entry);
  // A part that exists may be told otherwise; none comes to be by a correction.
  if (replacement?.kind === 'split' && !(wrong !== undefined && isAct('split')(wrong) && wrong.body.into === replacement.into)) return shed;
  const written = batch.written.map((act) => (act.sequence === entry.body.entry ? { ...act, standing: false, correctedBy: entry.sequence } : act));
  if (replacement !== null) {
    const { kind, ...rest } = replacement;
    written.push({
      sequence: entry.sequence,
      kind,
      at: fromRfc3339(replacement.at),
      writtenAt: fromRfc3339(entry.time),
      by: entry.who,
      body: { ...rest, lot: batch.lot },
      standing: true,
      corrects: entry.body.entry,
      correctedBy: null,
    });
  }
  return grow(shed, batch, written, entry.sequence);
};

const actOf = (entry: EntryOf<ActKind>): StoryAct => ({
  sequence: entry.sequence,
  kind: entry.kind,
  at: fromRfc3339(entry.body.at),
  writtenAt: fromRfc3339(entry.time),
  by: entry.who,
  body: entry.body,
  standing: true,
  corrects: null,
  correctedBy: null,
});

/** The batch with its story as written now, and with it every lot that shares a part of that story. */
const grow = (shed: Shed, before: Batch, written: readonly StoryAct[], revision: number): Shed => {
  const parent = before.from === null ? null : (shed.batches.get(before.from.lot) ?? null);
  const batch = batchTold({ ...before, written }, parent);
  let grown = settle(shed, before, batch, revision);
  for (const act of written.filter(isAct('split'))) {
    const part = grown.batches.get(act.body.into) ?? partOf(batch, act.body.into, act);
    grown = grow(grown, { ...part, from: { lot: batch.lot, entry: act.sequence, at: act.at } }, part.written, revision);
  }
  for (const part of shed.batches.values()) if (part.from?.lot === batch.lot && splitInto(batch, part.lot) === undefined) grown = retire(grown, part, revision);
  return grown;
};

const partOf = (parent: Batch, lot: Lot, { sequence, at, by }: StoryAct): Batch => ({
  ...parent, lot, lineage: [...parent.lineage, lot], from: { lot: parent.lot, entry: sequence, at }, sequence, openedBy: by, stays: [], written: [], acts: [], jarredAt: null,
});

/** A split that was taken back: the part, and whatever was split from it, is one with the lot it came from again. */
const retire = (shed: Shed, part: Batch, revision: number): Shed => {
  const gone = new Set([...shed.batches.values()].filter(({ lineage }) => lineage.includes(part.lot)).map(({ lot }) => lot));
  return {
    ...shed,
    batches: new Map([...shed.batches].filter(([lot]) => !gone.has(lot))),
    retiredLots: new Set([...shed.retiredLots, ...gone]),
    drums: new Map([...shed.drums].map(([id, drum]) => [id, drum.lot !== null && gone.has(drum.lot) ? { ...drum, lot: null, revision } : drum])),
  };
};

const settle = (shed: Shed, before: Batch, batch: Batch, revision: number): Shed => {
  const touched = new Set([...before.stays, ...batch.stays].map(({ drum }) => drum));
  let drums = shed.drums;
  for (const id of touched) {
    const drum = drums.get(id);
    if (drum === undefined) continue;
    const lot = lotIn(drum, batch);
    // Where it lay before has nothing new to tell.
    if (lot !== drum.lot || id === batch.drum) drums = withEntry(drums, id, { ...drum, lot, revision });
  }
  return { ...shed, drums, batches: withEntry(shed.batches, batch.lot, batch) };
};

/** A batch that was jarred or moved has left its drum; what is taken back by a correction puts it there again if nothing else went in. */
const lotIn = ({ id, lot }: Drum, batch: Batch): Lot | null => {
  const last = batch.stays.at(-1);
  if (last?.drum !== id || last.to !== null) return lot === batch.lot ? null : lot;
  return lot ?? batch.lot;
};
