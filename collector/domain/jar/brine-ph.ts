import { usualPhUncertainty } from '../acid/usual-ph-uncertainty.ts';
import { brineAt } from '../cure/brine.ts';
import type { Batch } from '../journal/shed.ts';
import { isAct } from '../journal/shed.ts';
import type { EpochMs } from '../units/time.ts';
import { isStrip } from './strip.ts';

/** A pH of the brine with its uncertainty and time. */
export interface BrinePh {
  readonly value: number;
  readonly uncertainty: number;
  readonly at: EpochMs;
}

/**
 * The pH of the brine by which jarring is judged: the latest standing measurement by hand, or what a probe says at that time. Where both
 * speak, the one nearer to the limit counts.
 *
 * A measurement made before the brine was last renewed tells of another brine and does not count, nor does a strip (assumptions on the
 * careful side). Null: not known, which is judged as above the limit. Uncertainty of both: a meter checked that day, in brine.
 */
export const brinePh = (batch: Batch, probe: { readonly value: number; readonly at: EpochMs } | null, at: EpochMs): BrinePh | null => {
  const { renewedAt } = brineAt(batch, at);
  const byHand = batch.acts.filter(isAct('measured')).findLast((act) => act.body.quantity === 'ph' && act.at <= at && act.at >= renewedAt && !isStrip(act.body.instrument ?? ''));
  const told = [...(byHand === undefined ? [] : [{ value: byHand.body.value, at: byHand.at }]), ...(probe === null ? [] : [probe])];
  const worst = told.toSorted((one, other) => other.value - one.value)[0];
  return worst === undefined ? null : { ...worst, uncertainty: usualPhUncertainty };
};
