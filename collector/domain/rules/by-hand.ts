import { isAct, type Batch, type StoryAct } from '../journal/shed.ts';
import type { EpochMs } from '../units/time.ts';
import type { Limit } from './limit.ts';
import { inside, stepRange, type RangeCondition } from './range.ts';

/**
 * A range rule over what was measured by hand in a batch. A person stood there and looked, so no delay is waited for; the deadband
 * and the guard band are those of probes. Worked out anew from the standing acts each time, so that a correction corrects it too.
 */
export interface HandCondition {
  readonly condition: RangeCondition;
  /** The last value measured, and when. */
  readonly last: { readonly value: number; readonly at: EpochMs } | null;
}

/** What is known of a measurement by hand: how far it may be from the truth, and whether its instrument was checked as required. */
export interface HandTold {
  uncertaintyOf(act: StoryAct): number;
  isEvidence(act: StoryAct): boolean;
}

export const handQuantities = ['temperature', 'ph', 'salinity'] as const;
export type HandQuantity = (typeof handQuantities)[number];
export const isHandQuantity = (quantity: string): quantity is HandQuantity => (handQuantities as readonly string[]).includes(quantity);

export const judgeByHand = (batch: Batch, limit: Limit, now: EpochMs, told: HandTold): HandCondition => {
  const atOnce: Limit = { ...limit, onDelayS: 0, offDelayS: 0 };
  let condition: RangeCondition = inside;
  let last: HandCondition['last'] = null;
  for (const act of batch.acts) {
    if (!isAct('measured')(act) || act.body.quantity !== limit.quantity || act.at > now) continue;
    const { condition: after } = stepRange(condition, atOnce, told.uncertaintyOf(act), act.body.value, act.at);
    // What is no evidence may warn; it never says that a drum is inside again.
    if (after.phase === 'inside' && condition.phase !== 'inside' && !told.isEvidence(act)) continue;
    condition = after;
    last = { value: act.body.value, at: act.at };
  }
  return { condition, last };
};
