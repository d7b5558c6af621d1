import type { Entry } from '../journal/entry.ts';
import type { Batch } from '../journal/shed.ts';
import { seriesParts, type SeriesId } from '../reading/reading.ts';
import { fromRfc3339, type EpochMs } from '../units/time.ts';
import type { JournalLine, SealLine } from './lot-record.ts';

/** What a lot was touched by: entries that speak of any of it concern the lot. */
export interface ExtractSubject {
  readonly batch: Batch;
  readonly series: readonly SeriesId[];
  readonly instruments: ReadonlySet<string>;
  /** Numbers of its deviations, and lots of salt, acid, jars and the like it used. */
  readonly names: ReadonlySet<string>;
  readonly until: EpochMs;
}

/**
 * Picks the journal entries that concern a lot, asked of one entry after the other in their order: what corrects, or answers, an entry
 * that was picked is picked too. Reading on is enough; the journal is never held as a whole.
 */
export const lotExtract = ({ batch, series, instruments, names, until }: ExtractSubject): ((entry: Entry) => boolean) => {
  const drums = new Set(batch.stays.map(({ drum }) => drum));
  const picks = new Set(batch.picks.map(({ pick }) => pick));
  const probes = new Set<string>([...instruments, ...series.map((each) => seriesParts(each).probe)]);
  const ids = new Set<string>(names);
  const chosen = new Set<number>();
  const concerns = (entry: Entry): boolean => {
    switch (entry.kind) {
      case 'key-made':
        return true;
      case 'record-seen':
        // A record is no other for having been looked at; who looked stands in the journal.
        return false;
      case 'day-sealed':
        return fromRfc3339(entry.body.to) > batch.startedAt && fromRfc3339(entry.body.from) < until;
      case 'alert-raised':
        if (entry.body.lot !== null && batch.lineage.includes(entry.body.lot)) ids.add(entry.body.id);
        return ids.has(entry.body.id);
      case 'limit-set':
        return written(entry) <= until && (entry.body.drum === null || drums.has(entry.body.drum));
      case 'corrected':
        return chosen.has(entry.body.entry);
      case 'task-done':
        return entry.body.entry !== null && chosen.has(entry.body.entry);
      case 'placed':
      case 'calibrated':
        return probes.has(entry.body.probe);
      default:
        // What is of another lot in the same drum is of that lot only.
        if ('lot' in entry.body && typeof entry.body.lot === 'string') return batch.lineage.includes(entry.body.lot);
        return (written(entry) <= until && named(entry.body, 'drum', [...drums])) || named(entry.body, 'pick', [...picks]) || named(entry.body, 'id', [...ids]) || named(entry.body, 'deviation', [...ids]);
    }
  };
  return (entry) => {
    const does = concerns(entry);
    if (does) chosen.add(entry.sequence);
    return does;
  };
};

const written = ({ time }: Entry): EpochMs => fromRfc3339(time);

const named = (body: object, field: string, names: readonly string[]): boolean => {
  const value = (body as Readonly<Record<string, unknown>>)[field];
  return typeof value === 'string' && names.includes(value);
};

/** As stored, so that whoever holds the entry can compare. */
export const journalLine = ({ sequence, time, who, kind, previousHash, hash }: Entry): JournalLine => ({ sequence, time, who, kind, previousHash, hash });

/** The seals of days in which the lot lay in a drum, with the blocks of the series that watched it. */
export const sealLines = (entries: readonly Entry[], series: readonly SeriesId[]): readonly SealLine[] =>
  entries.flatMap((entry) =>
    entry.kind === 'day-sealed'
      ? [{ entry: entry.sequence, day: entry.body.day, hash: entry.hash, amends: entry.body.amends, blocks: entry.body.blocks.filter((block) => series.includes(block.series)).map(({ series: of, part, count, sha256 }) => ({ series: of, part, count, sha256 })) }]
      : [],
  );
