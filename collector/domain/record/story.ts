import { openHolds } from '../jar/holds.ts';
import { jarStock } from '../jar/jar-stock.ts';
import type { EntryOf } from '../journal/entry.ts';
import { isAct, type Batch, type Shed } from '../journal/shed.ts';
import { fromRfc3339, toRfc3339, type EpochMs } from '../units/time.ts';
import { actWords } from './act-words.ts';
import { lateness } from './lateness.ts';
import type { RecordJars } from './lot-record.ts';
import { personIn } from './person.ts';
import type { RecordAct, RecordBatch, RecordPacking, RecordState } from './record-story.ts';

type Correction = EntryOf<'corrected'>;

/** What the journal tells of a lot: where it comes from, what was done, where it stands, where its jars are. */
export const recordBatch = (shed: Shed, batch: Batch): RecordBatch => {
  const drum = shed.drums.get(batch.drum);
  const leftAt = batch.stays.at(-1)?.to ?? null;
  return {
    entry: batch.sequence,
    openedBy: personIn(batch.openedBy),
    drum: batch.drum,
    drumName: drum?.name ?? batch.drum,
    volumeL: drum?.volumeL ?? null,
    pickedAt: toRfc3339(batch.pickedAt),
    startedAt: toRfc3339(batch.startedAt),
    leftAt: leftAt === null ? null : toRfc3339(leftAt),
    cut: batch.cut,
    style: batch.style,
    maturity: batch.maturity,
    variety: batch.variety,
    trees: batch.trees,
    fruitKg: batch.fruitKg,
    brineL: batch.brineL,
    saltGPerL: batch.saltGPerL,
    acid: batch.acid === null ? null : `${batch.acid.ml} mL of ${batch.acid.strengthPercent} % ${batch.acid.acid}`,
    picks: batch.picks.map(({ pick, kg }) => {
      const from = shed.picks.get(pick);
      return { pick, kg, at: from === undefined ? null : toRfc3339(from.at), trees: from?.trees ?? [], block: from?.block ?? null };
    }),
    splitFrom: batch.from === null ? null : { lot: batch.from.lot, at: toRfc3339(batch.from.at) },
    stays: batch.stays.map(({ drum: id, from, to }) => ({ drum: id, from: toRfc3339(from), to: to === null ? null : toRfc3339(to) })),
  };
};

export const recordActs = (batch: Batch, corrections: ReadonlyMap<number, Correction>): readonly RecordAct[] =>
  batch.acts.map((act) => {
    const { lot, note, writtenAt: paperAt, at: _at, key: _key, ...body } = act.body;
    const corrected = act.correctedBy === null ? undefined : corrections.get(act.correctedBy);
    return {
      sequence: act.sequence,
      kind: act.kind,
      text: actWords(act),
      note: note ?? null,
      at: toRfc3339(act.at),
      writtenAt: toRfc3339(act.writtenAt),
      paperAt: paperAt === undefined ? null : toRfc3339(fromRfc3339(paperAt)),
      by: personIn(act.by),
      lot,
      late: act.corrects === null ? lateness(act.at, act.writtenAt) : null,
      standing: act.standing,
      corrects: act.corrects,
      correctedBy: act.correctedBy === null ? null : { entry: act.correctedBy, who: personIn(corrected?.who ?? ''), at: corrected?.time ?? '', reason: corrected?.body.reason ?? '' },
      body,
    };
  });

export const recordPacking = ({ acts }: Batch): readonly RecordPacking[] =>
  acts.filter(isAct('jarred')).map(({ sequence, at, by, body }) => ({
    entry: sequence, at: toRfc3339(at), by: personIn(by), jars: body.jars, jarMl: body.jarMl, brine: body.brine, acid: body.acid ?? null, heat: body.heat ?? null, coldC: body.coldC ?? null, ingredients: body.ingredients,
  }));

export const recordState = ({ recalls }: Pick<Shed, 'recalls'>, batch: Batch, now: EpochMs): RecordState => {
  const recall = recalls.findLast(({ lot, at }) => batch.lineage.includes(lot) && at <= now);
  if (recall !== undefined) return { word: 'recalled', since: toRfc3339(recall.at), by: personIn(recall.by), reason: recall.reason };
  const [held] = openHolds(batch.acts, now);
  if (held !== undefined) return { word: 'on hold', since: toRfc3339(held.at), by: personIn(held.by), reason: held.reason };
  if (batch.jarredAt === null || batch.jarredAt > now) return { word: 'in drum', since: toRfc3339(batch.startedAt), by: null, reason: null };
  const jarredAt = batch.jarredAt;
  const released = batch.acts.filter(isAct('release')).findLast(({ at }) => at >= jarredAt && at <= now);
  if (released === undefined) return { word: 'in jars, not released', since: toRfc3339(jarredAt), by: null, reason: null };
  const { by, exception } = released.body;
  return { word: 'released', since: toRfc3339(released.at), by, reason: exception === undefined ? null : `by exception: ${exception}` };
};

export const recordJars = (batch: Batch, now: EpochMs): RecordJars | null => {
  if (batch.jarredAt === null) return null;
  const { jarred, otherwise, returned, left } = jarStock(batch.acts, now);
  const out = batch.acts.filter(isAct('distributed')).map(({ sequence, at, body }) => ({ entry: sequence, at: toRfc3339(at), to: body.to, jars: body.jars }));
  const count = batch.acts.filter(isAct('jars-noted')).findLast(({ at, body }) => body.what === 'counted' && at <= now);
  const counted = count === undefined ? null : { jars: count.body.jars, at: toRfc3339(count.at), entry: count.sequence, unaccounted: jarStock(batch.acts, count.at).left - count.body.jars };
  return { filled: jarred, out, otherwise, returned, left, counted };
};
