import type { Batch } from '../journal/shed.ts';
import type { Cull } from '../journal/pick-entries.ts';
import { massOf, type FruitPick } from './pick.ts';

/**
 * Where the fruit of a pick went.
 *
 * picked = culls + in batches + unaccounted, with stones, in kg; what is over is told instead of a negative rest.
 *
 * Source: mass balance. Weights of buckets are rough: a balance that is off by little is no mistake (common practice, no source).
 * Example: 42 kg picked, 3 kg culled, 36 kg in a batch leave 3 kg unaccounted.
 */
export interface PickBalance {
  /** Null while the pick was not weighed. */
  readonly pickedKg: number | null;
  readonly culls: readonly Cull[];
  readonly culledKg: number;
  readonly batches: readonly { readonly lot: string; readonly kg: number }[];
  readonly inBatchesKg: number;
  readonly unaccountedKg: number | null;
  /** By how much more was used than picked; 0 where nothing was, or the pick was not weighed. */
  readonly overKg: number;
}

export const pickBalance = (pick: FruitPick, batches: Iterable<Pick<Batch, 'lot' | 'picks'>>): PickBalance => {
  const culls = addUp(pick.sortings.filter(({ standing }) => standing).flatMap((sorting) => sorting.culls));
  const shares = [...batches].flatMap(({ lot, picks }) => {
    const kg = sum(picks.filter((share) => share.pick === pick.pick).map((share) => share.kg));
    return kg > 0 ? [{ lot, kg }] : [];
  });
  const pickedKg = massOf(pick);
  const culledKg = sum(culls.map(({ kg }) => kg));
  const inBatchesKg = sum(shares.map(({ kg }) => kg));
  const rest = pickedKg === null ? null : pickedKg - culledKg - inBatchesKg;
  return { pickedKg, culls, culledKg, batches: shares, inBatchesKg, unaccountedKg: rest === null ? null : Math.max(0, rest), overKg: rest === null || rest > -roundingKg ? 0 : -rest };
};

/** Shares of a split are quotients: less than a gram over is none. */
const roundingKg = 0.001;

const sum = (numbers: readonly number[]): number => numbers.reduce((total, each) => total + each, 0);

const addUp = (culls: readonly Cull[]): readonly Cull[] => {
  const byCause = new Map<string, number>();
  for (const { cause, kg } of culls) byCause.set(cause, (byCause.get(cause) ?? 0) + kg);
  return [...byCause].map(([cause, kg]) => ({ cause, kg }));
};
