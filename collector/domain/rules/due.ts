import { brineAt } from '../cure/brine.ts';
import { openChangeOf } from '../cure/open-change.ts';
import type { Batch, Shed } from '../journal/shed.ts';
import { hourMs, type EpochMs } from '../units/time.ts';
import type { Limit } from './limit.ts';

/**
 * When a due rule comes true if nobody acts; null when nothing is due. Two reasons are kept apart: `change` is the schedule (late costs
 * time), `brine-age` is hygiene in water and weak brine (late is a hazard, whatever the schedule says or was skipped).
 */
export const comesTrueAt = (limit: Limit, shed: Shed, batch: Batch, now: EpochMs, zone: string): EpochMs | null => {
  if (limit.high === null) return null;
  const from = limit.quantity === 'brine-age' ? brineAt(batch, now).renewedAt : (openChangeOf(shed, batch, now, zone)?.step.dueAt ?? null);
  return from === null ? null : from + limit.high * hourMs;
};
