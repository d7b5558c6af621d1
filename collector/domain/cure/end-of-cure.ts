import { isAct, type Batch } from '../journal/shed.ts';
import type { Result } from '../result.ts';
import { fail, ok } from '../result.ts';
import { dayMs, type EpochMs } from '../units/time.ts';
import type { Bitterness } from './batch.ts';

/**
 * When a cure came down to an end point, as far as tastings can tell: on some day after `bitterAt` and not later than `sweetAt`.
 * `bitterAt` is null where the first tasting was already at or below the end point: then `days` is the latest it can have been.
 */
export interface CureEnd {
  readonly sweetAt: EpochMs;
  readonly bitterAt: EpochMs | null;
  /** From the start to `sweetAt`. */
  readonly days: number;
  /** Days between the two tastings; null without `bitterAt`. */
  readonly gapDays: number | null;
  /** The middle of the interval, or `days` where its beginning is not known. */
  readonly likelyDays: number;
}

export const notEndedReasons = ['not-finished', 'bitter-again', 'jarred-bitter', 'never-tasted'] as const;
export type NotEnded = (typeof notEndedReasons)[number];

/**
 * The end of a cure is the first standing tasting in the drum at or below the end point. It does not count while the latest tasting is
 * above it again, because then the batch is back at work. Jarring is not an end by itself: fruit jarred while more bitter stopped at
 * another end point, and would look faster than it was.
 */
export const endOfCure = (batch: Batch, endPoint: Bitterness): Result<CureEnd, { readonly code: NotEnded; readonly last: Bitterness | null }> => {
  const tastings = batch.acts.filter(isAct('tasted')).filter(({ at }) => at >= batch.startedAt && (batch.jarredAt === null || at <= batch.jarredAt));
  const latest = tastings.at(-1);
  const first = tastings.findIndex(({ body }) => body.bitterness <= endPoint);
  const sweet = tastings[first];
  if (latest === undefined) return fail({ code: batch.jarredAt === null ? 'not-finished' : 'never-tasted', last: null });
  if (sweet === undefined) return fail({ code: batch.jarredAt === null ? 'not-finished' : 'jarred-bitter', last: latest.body.bitterness });
  if (latest.body.bitterness > endPoint) return fail({ code: 'bitter-again', last: latest.body.bitterness });
  const bitterAt = tastings[first - 1]?.at ?? null;
  const days = (sweet.at - batch.startedAt) / dayMs;
  const gapDays = bitterAt === null ? null : (sweet.at - bitterAt) / dayMs;
  return ok({ sweetAt: sweet.at, bitterAt, days, gapDays, likelyDays: days - (gapDays ?? 0) / 2 });
};
