import { brineAt, isPlainWater } from '../cure/brine.ts';
import type { Batch, LimitChanges } from '../journal/shed.ts';
import { hourMs, type EpochMs } from '../units/time.ts';
import { limitsInForce } from './limits-in-force.ts';

/** How long water or weak brine may stand: a limit, told apart from any date by which fruit is sweet. */
export interface Hygiene {
  readonly limitAt: EpochMs;
  readonly limitHours: number;
  readonly source: string;
  readonly text: string;
}

/** The strictest limit of age that stands for a batch; null where its brine has barriers of its own. */
export const hygieneOf = (changes: LimitChanges, batch: Batch, now: EpochMs): Hygiene | null => {
  const brine = brineAt(batch, now);
  let strictest: Hygiene | null = null;
  for (const { quantity, high, source } of limitsInForce(changes, batch.drum, batch, now)) {
    if (quantity !== 'brine-age' || high === null || (strictest !== null && high >= strictest.limitHours)) continue;
    const what = isPlainWater(brine) ? 'Plain water' : 'Weak brine';
    strictest = { limitAt: brine.renewedAt + high * hourMs, limitHours: high, source, text: `${what} holds nothing back: at most ${high} h between changes. This is hygiene, whatever the date.` };
  }
  return strictest;
};
