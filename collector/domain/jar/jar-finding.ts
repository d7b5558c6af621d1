import type { JarUncertainty } from './jar-uncertainty.ts';
import type { PackLimit } from './pack-limits.ts';
import type { Discount, JarReading, JarState } from './packed-jar-rule.ts';

export type JarVerdict = 'inside' | 'outside' | 'unknown';

/** What is still missing before a lot may be called inside. */
export type Unmet = 'no-reading' | 'too-few-jars' | 'not-repeated' | 'still-moving' | 'high-reading-in-doubt' | 'too-close';

/** What the readings of packed jars say, before anything is advised. */
export interface JarFinding {
  readonly verdict: JarVerdict;
  readonly limit: PackLimit;
  /** Mean of the last reading of each jar that counts; null without any. */
  readonly mean: number | null;
  readonly uncertainty: JarUncertainty | null;
  /** Limit less the mean (or the worst jar) with its uncertainty; null without a mean. Negative: too close to say, or outside. */
  readonly margin: number | null;
  /** Which of the two decides the margin. */
  readonly decidedBy: 'mean' | 'worst-jar' | null;
  readonly jars: readonly JarState[];
  readonly discounted: readonly { readonly reading: JarReading; readonly why: Discount }[];
  readonly unmet: readonly Unmet[];
}
