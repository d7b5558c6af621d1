import { fromRfc3339 } from '../units/time.ts';
import type { ActKind, EntryOf, Lot } from './entry.ts';
import { withEntry } from './map.ts';
import type { Batch, Shed, StoryAct } from './shed.ts';

/** How a batch's story grows: opened, acts written, acts corrected. */
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
    openedBy: entry.who,
    sequence: entry.sequence,
    acts: [],
    jarredAt: null,
  };
  return { ...shed, batches: withEntry(shed.batches, body.lot, batch), drums: withEntry(shed.drums, drum.id, { ...drum, lot: body.lot, revision: entry.sequence }) };
};

export const writeAct = (shed: Shed, entry: EntryOf<ActKind>): Shed => {
  const batch = shed.batches.get(entry.body.lot);
  return batch === undefined ? shed : withStory(shed, batch, [...batch.acts, actOf(entry)], entry.sequence);
};

/** The mistaken act stays in the story, no longer standing; the replacement stands as an act of its own. */
export const correctAct = (shed: Shed, entry: EntryOf<'corrected'>): Shed => {
  const { replacement } = entry.body;
  const batch = [...shed.batches.values()].find(({ acts }) => acts.some(({ sequence, standing }) => sequence === entry.body.entry && standing));
  if (batch === undefined) return shed;
  const acts = batch.acts.map((act) => (act.sequence === entry.body.entry ? { ...act, standing: false, correctedBy: entry.sequence } : act));
  if (replacement !== null) {
    const { kind, ...rest } = replacement;
    acts.push({
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
  return withStory(shed, batch, acts, entry.sequence);
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

const withStory = (shed: Shed, batch: Batch, acts: readonly StoryAct[], revision: number): Shed => {
  const sorted = [...acts].sort((one, other) => one.at - other.at || one.sequence - other.sequence);
  const jarred = sorted.findLast((act) => act.kind === 'jarred' && act.standing);
  const drum = shed.drums.get(batch.drum);
  const grown: Batch = { ...batch, acts: sorted, jarredAt: jarred?.at ?? null };
  return {
    ...shed,
    batches: withEntry(shed.batches, batch.lot, grown),
    drums: drum === undefined ? shed.drums : withEntry(shed.drums, drum.id, { ...drum, lot: lotIn(drum.lot, grown), revision }),
  };
};

/** A jarred batch has left its drum; a jarring taken back by a correction puts it there again if nothing else went in. */
const lotIn = (current: Lot | null, batch: Batch): Lot | null => {
  if (batch.jarredAt !== null) return current === batch.lot ? null : current;
  return current ?? batch.lot;
};
