import type { Maturity } from '../cure/batch.ts';
import type { Cull, PickCode } from '../journal/pick-entries.ts';
import type { EpochMs } from '../units/time.ts';
import { maturityIndex, type MaturityIndex } from './maturity-index.ts';

/** What spoils fruit, in the words of the trade; other words may be written (common practice, no source). */
export const cullCauses = ['olive fly', 'hail', 'bruised', 'shrivelled', 'soft', 'sunburn', 'too small', 'leaves and stalks'] as const;

export interface Sorting {
  readonly sequence: number;
  readonly at: EpochMs;
  readonly by: string;
  readonly culls: readonly Cull[];
  readonly counts: readonly number[] | null;
  readonly note: string | null;
  /** False when it was written anew. */
  readonly standing: boolean;
}

/** One picking of fruit: what a batch is made of. */
export interface FruitPick {
  readonly pick: PickCode;
  readonly at: EpochMs;
  readonly until: EpochMs | null;
  readonly trees: readonly string[];
  readonly block: string | null;
  readonly variety: string | null;
  readonly massKg: number | null;
  readonly buckets: number | null;
  readonly bucketKg: number | null;
  readonly counts: readonly number[] | null;
  readonly byEye: Maturity | null;
  readonly damage: Readonly<Record<string, number>>;
  readonly note: string | null;
  readonly by: string;
  readonly sequence: number;
  readonly sortings: readonly Sorting[];
  /** Entries that told more of it or mended it. */
  readonly amendedBy: readonly number[];
  /** Why there was no such pick after all; null for one that stands. */
  readonly takenBack: string | null;
}

/** What was picked, with stones; null while it was not weighed. A weight beats buckets. */
export const massOf = ({ massKg, buckets, bucketKg }: Pick<FruitPick, 'massKg' | 'buckets' | 'bucketKg'>): number | null =>
  massKg ?? (buckets === null || bucketKg === null ? null : buckets * bucketKg);

/** The latest count there is: fruit that was sorted is counted anew. */
export const countsOf = ({ counts, sortings }: Pick<FruitPick, 'counts' | 'sortings'>): readonly number[] | null => sortings.findLast((sorting) => sorting.standing && sorting.counts !== null)?.counts ?? counts;

/** The index of the latest count; null where nobody counted. */
export const countedMaturity = (pick: Pick<FruitPick, 'counts' | 'sortings'>): MaturityIndex | null => {
  const counts = countsOf(pick);
  const index = counts === null ? null : maturityIndex(counts);
  return index?.ok ? index.value : null;
};

/** A count beats the eye. */
export const maturityOf = (pick: Pick<FruitPick, 'counts' | 'sortings' | 'byEye'>): Maturity | null => countedMaturity(pick)?.stage ?? pick.byEye;

/** Where the fruit was picked, in words: the block, or the trees. */
export const placeOf = ({ block, trees }: Pick<FruitPick, 'block' | 'trees'>): string | null => block ?? (trees.length === 0 ? null : trees.join(', '));
