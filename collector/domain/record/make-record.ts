import { localDate } from '../cure/stage.ts';
import { instrumentBookOf } from '../calibration/book.ts';
import { jarGateOf } from '../jar/jar-evidence.ts';
import type { Entry, EntryOf } from '../journal/entry.ts';
import type { Batch, Shed } from '../journal/shed.ts';
import type { SeriesId } from '../reading/reading.ts';
import type { Alert } from '../rules/alert.ts';
import { defaultLimits } from '../rules/default-limits.ts';
import { toRfc3339, type EpochMs } from '../units/time.ts';
import { departuresOf } from './departures.ts';
import { journalLine, sealLines } from './extract.ts';
import { gapReason } from './gap-reason.ts';
import { handValues, probeNotUsable } from './hand-values.ts';
import { calibrationsOf, instrumentsOf } from './instruments.ts';
import { jarRows } from './jar-rows.ts';
import { limitRows } from './limit-rows.ts';
import { limitsAside } from './limits-aside.ts';
import { clockOffsets } from './local-time.ts';
import { recordForm, type LotRecord, type RecordReview } from './lot-record.ts';
import { missingOf } from './missing.ts';
import { ingredientsOf } from './ingredients.ts';
import { phCourse } from './ph-course.ts';
import type { RecordProducer } from './record-story.ts';
import { recordActs, recordBatch, recordJars, recordPacking, recordState } from './story.ts';
import type { LimitSet, LimitStretch } from './stretches.ts';
import { watchedQuantity, type WatchedInput } from './watched.ts';

/** What a record is made from: the shed as the journal tells it, the entries that concern the lot, and sums of the readings. */
export interface RecordInput {
  readonly shed: Shed;
  readonly batch: Batch;
  readonly site: LotRecord['site'];
  readonly now: EpochMs;
  readonly alerts: readonly Alert[];
  readonly entries: readonly Entry[];
  readonly stretches: readonly LimitStretch[];
  readonly watched: readonly WatchedInput[];
  readonly series: readonly SeriesId[];
}

const rangeLimits: ReadonlySet<string> = new Set(defaultLimits.filter(({ kind }) => kind === 'range').map(({ id }) => id));

const isKind = <Kind extends Entry['kind']>(kind: Kind) => (entry: Entry): entry is EntryOf<Kind> => entry.kind === kind;

/** The record of a lot as one plain object: the same input gives the same record. */
export const makeRecord = (input: RecordInput): LotRecord => {
  const { shed, batch, site, now, alerts, entries, stretches, watched, series } = input;
  const { zone } = site;
  const book = instrumentBookOf(shed, zone, now);
  const byHand = handValues(batch, book);
  const departures = departuresOf(shed, batch, alerts, rangeLimits);
  const producer = producerOf(shed);
  const ingredients = ingredientsOf(shed, batch);
  const sets: readonly LimitSet[] = entries.filter(isKind('limit-set'));
  const corrections = new Map(entries.filter(isKind('corrected')).map((entry) => [entry.sequence, entry]));
  const quantities = watched.map((each) => watchedQuantity(each, byHand, (gap) => gapReason(alerts, shed, each.channel, gap)));
  const gate = jarGateOf(batch, book);
  const until = Math.min(now, batch.stays.at(-1)?.to ?? now);
  return {
    form: recordForm,
    lot: batch.lot,
    madeAt: toRfc3339(now),
    site,
    clock: clockOffsets(Math.min(batch.pickedAt, batch.startedAt), now, zone),
    producer,
    batch: recordBatch(shed, batch),
    packing: recordPacking(batch),
    bestBefore: bestBefore(batch.jarredAt, producer?.bestBeforeMonths ?? null, zone),
    state: recordState(shed, batch, now),
    limits: [...jarRows(gate, batch.jarredAt, byHand), ...limitRows({ batch, stretches, sets, watched, byHand, book, departures })],
    phCourse: phCourse(batch, byHand, quantities.find(({ quantity }) => quantity === 'ph'), watched.every(({ channel, probes }) => channel !== 'ph' || probes.every((probe) => probeNotUsable(probe, 'ph', batch.lot, until, book) === null)), zone),
    departures,
    missing: missingOf({ watched: quantities, byHand, aside: limitsAside(entries, batch, until), notRecorded: notRecorded(producer, ingredients.length > 0), jars: recordJars(batch, now) }),
    instruments: instrumentsOf(watched, byHand, batch.lot, book, until),
    jars: recordJars(batch, now),
    reviews: reviewsOf(shed, batch),
    ingredients,
    acts: recordActs(batch, corrections),
    watched: quantities,
    byHand,
    calibrations: calibrationsOf(instrumentIds(watched, byHand), batch.startedAt, book),
    journal: entries.map(journalLine),
    seals: sealLines(entries, series),
  };
};

const instrumentIds = (watched: readonly WatchedInput[], byHand: LotRecord['byHand']): ReadonlySet<string> => new Set([...watched.flatMap(({ probes }) => probes), ...byHand.flatMap(({ instrument }) => instrument ?? [])]);

const bestBefore = (jarredAt: EpochMs | null, months: number | null, zone: string): string | null => (jarredAt === null || months === null ? null : localDate(jarredAt, zone).add({ months }).toString());

const producerOf = ({ producer }: Shed): RecordProducer | null => {
  if (producer === null) return null;
  const { name, address, licence, product, formula, productClass, bestBeforeMonths, storage, statement } = producer;
  return { name, address, licence, product, formula, productClass, bestBeforeMonths, storage, statement };
};

/** Reviews of this lot, and of all that was written. */
const reviewsOf = ({ reviews }: Shed, { lot }: Batch): readonly RecordReview[] =>
  reviews.filter((review) => review.lot === null || review.lot === lot).map(({ name, at, until, found }) => ({ by: name, at: toRfc3339(at), until, found }));

const notRecorded = (producer: RecordProducer | null, hasLots: boolean): readonly string[] => [
  ...(producer?.name == null || producer.address === null ? ['name and address of the producer'] : []),
  ...(producer?.productClass == null ? ['class of the product'] : []),
  ...(producer?.bestBeforeMonths == null ? ['best before'] : []),
  ...(hasLots ? [] : ['lots of salt, acid, jars and lids']),
  'laboratory report',
];
