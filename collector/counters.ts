import { seriesParts, type Slug } from '#domain/reading/reading.ts';
import type { EpochMs } from '#domain/units/time.ts';
import type { Decoded } from './sources/decoded.ts';

/** A probe whose readings bore a time that cannot be true: how many since the collector started, why the last, and when that came. */
export interface WrongClock {
  readonly refused: number;
  readonly reason: string;
  readonly at: EpochMs;
}

/** What came in since the collector started, and what became of it: every refusal is counted by its reason. */
export interface Counters {
  stored: number;
  duplicates: number;
  conflicts: number;
  late: number;
  readonly setAside: number;
  readonly refused: Record<string, number>;
  readonly clocks: ReadonlyMap<Slug, WrongClock>;
  refuse(reason: string): void;
  /** Readings with a time that cannot be true. */
  keepAside(aside: Decoded['aside'], arrivedAt: EpochMs): void;
}

/** Whoever invents names of probes makes no list without end. */
export const mostClocks = 500;

export const createCounters = (): Counters => {
  const refused: Record<string, number> = {};
  const clocks = new Map<Slug, WrongClock>();
  let setAside = 0;
  const refuse = (reason: string): void => {
    refused[reason] = (refused[reason] ?? 0) + 1;
  };
  return {
    stored: 0,
    duplicates: 0,
    conflicts: 0,
    late: 0,
    get setAside() {
      return setAside;
    },
    refused,
    clocks,
    refuse,
    keepAside: (aside, arrivedAt) => {
      setAside += aside.length;
      for (const { reading, reason } of aside) {
        refuse(reason);
        const { probe } = seriesParts(reading.series);
        const before = clocks.get(probe);
        if (before !== undefined || clocks.size < mostClocks) clocks.set(probe, { refused: (before?.refused ?? 0) + 1, reason, at: arrivedAt });
      }
    },
  };
};
