import { brineAt } from '../cure/brine.ts';
import { tasksOfBatch } from '../cure/tasks.ts';
import type { Batch, Shed } from '../journal/shed.ts';
import { hourMs, type EpochMs } from '../units/time.ts';
import type { Limit } from './limit.ts';

/**
 * When a due rule comes true if nobody acts; null when nothing is due. Two reasons are kept apart: `change` is the schedule (late costs
 * time), `brine-age` is hygiene in water and weak brine (late is a hazard, whatever the schedule says or was skipped).
 */
export const comesTrueAt = (limit: Limit, shed: Shed, batch: Batch, now: EpochMs, zone: string): EpochMs | null => {
  if (limit.high === null) return null;
  const from = limit.quantity === 'brine-age' ? brineAt(batch, now).renewedAt : changeDueAt(shed, batch, now, zone);
  return from === null ? null : from + limit.high * hourMs;
};

const changeDueAt = (shed: Shed, batch: Batch, now: EpochMs, zone: string): EpochMs | null =>
  tasksOfBatch(shed, batch, now, zone).find(({ kind }) => kind === 'change-brine' || kind === 'change-water')?.dueAt ?? null;
