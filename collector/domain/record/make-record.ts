import { jarGateOf } from '../jar/jar-evidence.ts';
import type { Entry, EntryOf } from '../journal/entry.ts';
import type { Batch, Shed } from '../journal/shed.ts';
import type { SeriesId } from '../reading/reading.ts';
import type { Alert } from '../rules/alert.ts';
import { defaultLimits } from '../rules/default-limits.ts';
import { toRfc3339, type EpochMs } from '../units/time.ts';
import { departuresOf, type DeviationOf } from './departures.ts';
import { journalLine, sealLines } from './extract.ts';
import { handValues } from './hand-values.ts';
import { calibrationsOf, instrumentsOf } from './instruments.ts';
import { jarRows } from './jar-rows.ts';
import { limitRows } from './limit-rows.ts';
import { clockOffsets } from './local-time.ts';
import { recordForm, type LotRecord, type RecordReview } from './lot-record.ts';
import { missingOf } from './missing.ts';
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
  readonly producer: RecordProducer | null;
  readonly reviews: readonly RecordReview[];
  readonly deviationOf: DeviationOf;
  /** Things nobody has written down, in a word each. */
  readonly notRecorded: readonly string[];
}

const rangeLimits: ReadonlySet<string> = new Set(defaultLimits.filter(({ kind }) => kind === 'range').map(({ id }) => id));

const isKind = <Kind extends Entry['kind']>(kind: Kind) => (entry: Entry): entry is EntryOf<Kind> => entry.kind === kind;

/** The record of a lot as one plain object: the same input gives the same record. */
export const makeRecord = (input: RecordInput): LotRecord => {
  const { shed, batch, site, now, alerts, entries, stretches, watched, producer, series } = input;
  const { calibrations } = shed;
  const { zone } = site;
  const byHand = handValues(batch, calibrations, zone, now);
  const departures = departuresOf(batch, alerts, rangeLimits, input.deviationOf);
  const sets: readonly LimitSet[] = entries.filter(isKind('limit-set'));
  const corrections = new Map(entries.filter(isKind('corrected')).map((entry) => [entry.sequence, entry]));
  const quantities = watched.map((each) => watchedQuantity(each, byHand));
  const gate = jarGateOf(batch, { calibrations, zone, now });
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
    state: recordState(batch, now),
    limits: [...jarRows(gate, batch.jarredAt, byHand), ...limitRows({ batch, stretches, sets, watched, byHand, calibrations, departures })],
    departures,
    missing: missingOf({ watched: quantities, byHand, jarred: batch.jarredAt !== null, outOfService: entries.filter(isKind('limit-out-of-service')), notRecorded: input.notRecorded }),
    instruments: instrumentsOf(watched, byHand, calibrations, until),
    jars: recordJars(batch, now),
    reviews: input.reviews,
    acts: recordActs(batch, corrections),
    watched: quantities,
    byHand,
    calibrations: calibrationsOf(instrumentIds(watched, byHand), calibrations, now),
    journal: entries.map(journalLine),
    seals: sealLines(entries, series),
  };
};

const instrumentIds = (watched: readonly WatchedInput[], byHand: LotRecord['byHand']): ReadonlySet<string> => new Set([...watched.flatMap(({ probes }) => probes), ...byHand.flatMap(({ instrument }) => instrument ?? [])]);
