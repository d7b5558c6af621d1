import type { Slug } from '../reading/reading.ts';
import type { Rfc3339 } from '../units/time.ts';

/** What an exercise found: kept as it was found, so that its paper stays what it was. */
export interface RecallResult {
  readonly lots: readonly { readonly lot: string; readonly filled: number; readonly out: number; readonly otherwise: number; readonly here: number; readonly counted: boolean; readonly unaccounted: number }[];
  readonly buyers: readonly { readonly to: string; readonly lot: string; readonly jars: number; readonly at: Rfc3339 }[];
  /** Fruit of these lots is still in a drum. */
  readonly inDrums: readonly { readonly lot: string; readonly drum: Slug }[];
  /** What went into them, one step back. */
  readonly sources: readonly { readonly kind: 'pick' | 'ingredient'; readonly name: string; readonly words: string }[];
  readonly filled: number;
  readonly located: number;
  readonly unaccounted: number;
}

/** A recall that was played through: evidence that it works. */
export interface RecallExercise {
  readonly number: number;
  readonly of: { readonly kind: 'lot' | 'ingredient'; readonly id: string };
  readonly startedAt: Rfc3339;
  readonly endedAt: Rfc3339;
  readonly minutes: number;
  /** How long the program itself took to follow everything. */
  readonly tookMs: number;
  readonly result: RecallResult;
  readonly gaps?: string;
  readonly action?: string;
  readonly key?: string;
}
