import type { EpochMs } from '../units/time.ts';

/** The part of a readiness forecast that days are counted from: an 80 % interval about the likely day. */
export interface Finish {
  readonly readyFrom: EpochMs;
  readonly readyLikely: EpochMs;
  readonly readyTo: EpochMs;
  /** `readyTo` is only the end of what was looked at. */
  readonly openEnded: boolean;
}

/**
 * The day by which a cure is finished with a given chance.
 *
 * ln(days) is taken as normal on each side of the likely day: t = start + D·(D_edge/D)^(|z|/1.2816), z the normal quantile of the chance,
 * D the likely duration, D_edge that of the end of the interval on that side.
 *
 * Source: the forecast adds its spreads in the logarithm of the duration; the ends of an 80 % interval are the 10 and 90 % points, so the
 * end of the interval is P90, not P80. Valid range: chance 0.5, 0.8 or 0.9. Null where the interval is open and the chance beyond one half.
 * Example: likely 30 days, interval 20 to 48: P50 day 30, P80 day 40.8, P90 day 48.
 */
export const finishBy = (startedAt: EpochMs, { readyLikely, readyTo, openEnded }: Finish, chance: FinishChance): EpochMs | null => {
  if (chance === 0.5) return readyLikely;
  if (openEnded) return null;
  const likely = Math.max(1, readyLikely - startedAt);
  const late = Math.max(likely, readyTo - startedAt);
  return Math.round(startedAt + likely * (late / likely) ** (quantile[chance] / quantile[0.9]));
};

export type FinishChance = 0.5 | 0.8 | 0.9;

/** Quantiles of the normal distribution. */
const quantile = { 0.5: 0, 0.8: 0.8416212335729143, 0.9: 1.2815515655446004 } as const;
