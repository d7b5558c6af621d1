import { byCollector, type Draft } from '#domain/journal/entry.ts';
import type { DaySeal, SealedBlock } from '#domain/journal/day-seal.ts';
import { nextToSeal } from '#domain/journal/next-to-seal.ts';
import { dayToSealAt, type SealedDay } from '#domain/journal/sealed-days.ts';
import type { Shed } from '#domain/journal/shed.ts';
import type { BlockDigest, SealingStore } from '#domain/reading/sealing.ts';
import { toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { canonical } from './journal/book.ts';
import type { SiteKey } from './journal/site-key.ts';

/** Turns finished days into blocks and writes their seals in the journal, one day a round. */
export interface Sealer {
  /** Seals what is due next; answers the day, or null when nothing is. A round is not begun while another one goes on. */
  round(now: EpochMs): Promise<string | null>;
  /** Names the blocks a stop in the middle left without a seal. Once, before the first round. */
  recover(): Promise<number>;
}

export interface SealerOptions {
  readonly store: Pick<SealingStore, 'seal' | 'digests' | 'firstUnsealed'>;
  readonly zone: string;
  readonly key: SiteKey;
  readonly shed: () => Shed;
  /** The time of the first reading there is. */
  readonly firstReading: () => Promise<EpochMs | null>;
  /** The seal an entry of the journal holds. */
  readonly sealOf: (entry: number) => DaySeal;
  /** The newest entry of the journal. */
  readonly head: () => DaySeal['head'];
  readonly append: (draft: Draft) => void;
}

export const createSealer = ({ store, zone, key, shed, firstReading, sealOf, head, append }: SealerOptions): Sealer => {
  let busy = false;

  const write = (day: SealedDay, amends: boolean, blocks: readonly BlockDigest[]): void => {
    const seal: DaySeal = { day: day.day, from: toRfc3339(day.from), to: toRfc3339(day.to), amends, blocks: blocks.map(blockShape), head: head(), publicKey: key.publicKey };
    append({ who: byCollector, kind: 'day-sealed', body: { ...seal, signature: key.sign(canonical(seal)) } });
  };

  const round = async (now: EpochMs): Promise<string | null> => {
    const { days, lastAt } = shed().seals;
    const until = days.at(-1)?.to ?? Number.NEGATIVE_INFINITY;
    const first = await store.firstUnsealed(Number.MIN_SAFE_INTEGER);
    const firstAfter = first === null || first >= until ? first : await store.firstUnsealed(until);
    const next = nextToSeal(days, { first, firstAfter }, lastAt, now, zone);
    if (next === null) return null;
    const blocks = await store.seal({ from: next.from, to: next.to });
    write(next, next.amends, blocks);
    return next.day;
  };

  return {
    round: async (now) => {
      if (busy) return null;
      busy = true;
      try {
        return await round(now);
      } finally {
        busy = false;
      }
    },
    recover: async () => {
      const { days } = shed().seals;
      const first = days[0]?.from ?? (await firstReading());
      const last = days.at(-1)?.to ?? first;
      if (first === null || last === null) return 0;
      let named = 0;
      // Every local day from the first to the one after the last: a stop between block and seal leaves its blocks in one of them.
      for (let at = first; at <= last; ) {
        const day = dayToSealAt(days, at, zone);
        const known = new Set(day.entries.flatMap((entry) => sealOf(entry).blocks.map(nameOf)));
        const unnamed = (await store.digests({ from: day.from, to: day.to })).filter((block) => !known.has(nameOf(block)));
        if (unnamed.length > 0) {
          write(day, day.entries.length > 0, unnamed);
          named += 1;
        }
        at = day.to;
      }
      return named;
    },
  };
};

const nameOf = ({ series, part }: Pick<SealedBlock, 'series' | 'part'>): string => `${series} ${part}`;

const blockShape = ({ series, part, count, sha256 }: BlockDigest): SealedBlock => ({ series, part, count, sha256 });
