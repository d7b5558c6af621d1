import { maturityClasses } from './maturity-index.ts';

/**
 * How far apart the fruit of one drum is in ripeness.
 *
 * The classes that hold the middle eight of ten fruits, from the tenth to the ninetieth in a hundred. Four classes apart or more is wide:
 * the green fruit is bitter when the black fruit is soft, and one drum holds two cures.
 *
 * Source: common practice, no source; the share and the width are assumptions.
 * Units: maturity classes 0 to 7. Valid range: at least one fruit counted.
 * Example: 5, 20, 35, 20, 12, 5, 2, 1 fruits lie from class 1 to class 4: three apart, not wide.
 */
export interface MaturitySpread {
  readonly low: number;
  readonly high: number;
  readonly wide: boolean;
}

export const wideClasses = 4;
const tail = 0.1;

/** `samples`: counts of the classes 0 to 7, each with the mass it stands for; one sample may weigh whatever it likes. */
export const maturitySpread = (samples: readonly { readonly counts: readonly number[]; readonly kg: number }[]): MaturitySpread | null => {
  const shares = Array.from({ length: maturityClasses.length }, () => 0);
  for (const { counts, kg } of samples) {
    const fruits = counts.reduce((sum, count) => sum + count, 0);
    if (fruits > 0) for (const [index, count] of counts.entries()) shares[index] = (shares[index] ?? 0) + (kg * count) / fruits;
  }
  const total = shares.reduce((sum, share) => sum + share, 0);
  if (!(total > 0)) return null;
  const reaching = (part: number): number => {
    let sum = 0;
    // A whole of parts of parts comes out a little short of itself.
    return shares.findIndex((share) => (sum += share) >= part * total * (1 - 1e-9));
  };
  const low = reaching(tail);
  const high = reaching(1 - tail);
  return { low, high, wide: high - low >= wideClasses };
};
