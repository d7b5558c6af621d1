import type { Maturity } from '../cure/batch.ts';
import type { Rfc3339 } from '../units/time.ts';

/** Names a pick: short, speakable, with a check character, such as `P26-A3`. */
export type PickCode = string;

/** What a sender adds to an act about a pick, as to one about a batch. */
interface PickAct {
  readonly pick: PickCode;
  readonly note?: string;
  readonly writtenAt?: Rfc3339;
  readonly key?: string;
}

/** What is known of a pick; all of it may be told later. */
export interface PickFacts {
  /** When the last fruit was picked. */
  readonly until?: Rfc3339;
  /** Marks of the trees. */
  readonly trees?: readonly string[];
  readonly block?: string;
  readonly variety?: string;
  readonly massKg?: number;
  readonly buckets?: number;
  readonly bucketKg?: number;
  /** Fruits counted in the maturity classes 0 to 7. */
  readonly counts?: readonly number[];
  /** By eye, where nothing was counted. */
  readonly maturity?: Maturity;
  /** Share of the fruit by cause, 0 to 1. */
  readonly damage?: Readonly<Record<string, number>>;
}

/** `at`: when the first fruit was picked. */
export type Picked = PickAct & PickFacts & { readonly at: Rfc3339 };

/** What was not known yet or was wrong: each field given takes the place of what stood. `takenBack`: there was no such pick, with the reason. */
export type PickAmended = PickAct & PickFacts & { readonly at?: Rfc3339; readonly takenBack?: string };

export interface Cull {
  readonly cause: string;
  readonly kg: number;
}

/** What was taken out. `replaces`: the sequence of a sorting that was written wrongly. */
export type Sorted = PickAct & { readonly at: Rfc3339; readonly culls: readonly Cull[]; readonly counts?: readonly number[]; readonly replaces?: number };

/** Fruit of a pick that went into a batch. */
export interface PickShare {
  readonly pick: PickCode;
  readonly kg: number;
}

export interface Soak {
  readonly startedAt: Rfc3339;
  /** How often its water was changed. */
  readonly changes: number;
}
