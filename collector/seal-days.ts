import { byCollector, genesisHash, type Draft } from '#domain/journal/entry.ts';
import type { DaySeal } from '#domain/journal/day-seal.ts';
import type { Shed } from '#domain/journal/shed.ts';
import type { SealingStore } from '#domain/reading/sealing.ts';
import { emptyShed, project } from '#domain/journal/project.ts';
import { ok, type Result } from '#domain/result.ts';
import type { EpochMs } from '#domain/units/time.ts';
import type { Clock } from './clock.ts';
import { createFollower } from './journal/follow.ts';
import type { Book } from './journal/book.ts';
import { openSiteKey, type KeyFailure } from './journal/site-key.ts';
import { textOf, type Log } from './log.ts';
import { createSealer, type Sealer } from './sealing.ts';

/** The sealing of days as the pipeline sees it: a tick now and then, and a wait before the files are closed. */
export interface DaySealing {
  tick(): void;
  settled(): Promise<void>;
}

export interface DaySealingOptions {
  readonly directory: string;
  readonly zone: string;
  readonly book: Book;
  /** Null where readings are kept elsewhere: days are then not sealed, and the site has its key for records all the same. */
  readonly store: SealingStore | null;
  readonly shed: () => Shed;
  readonly append: (drafts: readonly Draft[]) => void;
  readonly clock: Clock;
  readonly log: Log;
}

/** A day is sealed half a day after it is over: looking once a minute is often. */
const ticksPerLook = 60;

export const startSealing = ({ directory, zone, book, store, shed, append, clock, log }: DaySealingOptions): DaySealing => {
  // Without its key the site goes on measuring; what it cannot do is seal.
  const key = openSiteKey(directory, true);
  if (!key.ok) {
    log.error({ code: key.error.code }, key.error.message);
    return { tick: () => {}, settled: async () => {} };
  }
  if (shed().seals.publicKey !== key.value.publicKey) append([{ who: byCollector, kind: 'key-made', body: { publicKey: key.value.publicKey } }]);
  if (store === null) return { tick: () => {}, settled: async () => {} };

  const sealer = createSealer({ store, zone, key: key.value, shed, firstReading: () => firstReadingOf(store), sealOf: sealIn(book), head: () => headOf(book), append: (draft) => append([draft]) });
  let running: Promise<void> | null = sealRecovered(sealer, log);
  void running.finally(() => (running = null));
  let ticks = 0;
  let isBehind = true;
  return {
    tick: () => {
      ticks += 1;
      if (running !== null || (!isBehind && ticks % ticksPerLook !== 0)) return;
      running = sealer.round(clock.now()).then(
        (day) => {
          isBehind = day !== null;
          if (day !== null) log.info({ day }, 'sealed');
        },
        (error: unknown) => log.error({ error: textOf(error) }, 'a day could not be sealed; its readings stay as they are, and it is tried again'),
      );
      void running.finally(() => (running = null));
    },
    settled: async () => {
      if (running !== null) await running;
    },
  };
};

/** The same for a directory that nobody else has open: every day that is due, one after the other. */
export const sealDueDays = async ({ directory, book, store, now, told }: Pick<DaySealingOptions, 'directory' | 'book'> & { readonly store: SealingStore; readonly now: EpochMs; readonly told: (day: string) => void }): Promise<Result<number, KeyFailure>> => {
  const key = openSiteKey(directory, false);
  if (!key.ok) return key;
  let shed = emptyShed;
  const follower = createFollower(book, (entry) => (shed = project(shed, entry)));
  follower.poll();
  const append = (draft: Draft): void => {
    book.append([draft], now);
    follower.poll();
  };
  const sealer = createSealer({ store, zone: shed.site?.zone ?? 'UTC', key: key.value, shed: () => shed, firstReading: () => firstReadingOf(store), sealOf: sealIn(book), head: () => headOf(book), append });
  await sealer.recover();
  for (let days = 0; ; days += 1) {
    const day = await sealer.round(now);
    if (day === null) return ok(days);
    told(day);
  }
};

const sealRecovered = async (sealer: Sealer, log: Log): Promise<void> => {
  try {
    const named = await sealer.recover();
    if (named > 0) log.info({ named }, 'days whose sealing was interrupted now have their seal');
  } catch (error) {
    log.error({ error: textOf(error) }, 'what was being sealed could not be looked at; it is at the next start');
  }
};

const firstReadingOf = async (store: SealingStore): Promise<number | null> => {
  const firsts = (await store.summaries()).map(({ first }) => first.at);
  return firsts.length === 0 ? null : Math.min(...firsts);
};

const sealIn =
  (book: Pick<Book, 'read'>) =>
  (entry: number): DaySeal => {
    const [found] = book.read(entry - 1, 1);
    if (found?.kind !== 'day-sealed') throw new Error(`entry ${entry} is no seal of a day`);
    return found.body;
  };

const headOf = (book: Book): DaySeal['head'] => {
  const [last] = book.read(book.lastSequence() - 1, 1);
  return { sequence: last?.sequence ?? 0, hash: last?.hash ?? genesisHash };
};
