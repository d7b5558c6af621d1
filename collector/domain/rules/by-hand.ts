import { isAct, type Batch } from '../journal/shed.ts';
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

export const handQuantities = ['temperature', 'ph', 'salinity'] as const;
export type HandQuantity = (typeof handQuantities)[number];
export const isHandQuantity = (quantity: string): quantity is HandQuantity => (handQuantities as readonly string[]).includes(quantity);

export const judgeByHand = (batch: Batch, limit: Limit, uncertainty: number, now: EpochMs): HandCondition => {
  const atOnce: Limit = { ...limit, onDelayS: 0, offDelayS: 0 };
  let condition: RangeCondition = inside;
  let last: HandCondition['last'] = null;
  for (const act of batch.acts) {
    if (!isAct('measured')(act) || act.body.quantity !== limit.quantity || act.at > now) continue;
    ({ condition } = stepRange(condition, atOnce, uncertainty, act.body.value, act.at));
    last = { value: act.body.value, at: act.at };
  }
  return { condition, last };
};
