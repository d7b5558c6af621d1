import { dayMs, secondMs, type EpochMs } from '../units/time.ts';
import type { Finding, Sample } from './finding.ts';
import type { Limit } from './limit.ts';

/**
 * Rule of kind `milestone`: the pH is not at or below `high` by a day of the cure (`onDelayS`, counted from its start).
 *
 * True from that day on while the last measured pH lies above `high`; over at or below `high - deadband`. A pH nobody has measured is no
 * finding here: unknown is said elsewhere, and is never taken for inside.
 * Source: pH values from published limits (21 CFR 114.3, CXS 66-1981); the days are an assumption.
 * Example: started 1 October, pH 4.8 measured on the 16th, limit 4.6 by day 14: true.
 */
export const judgeMilestone = (limit: Limit, values: readonly Sample[], startedAt: EpochMs, at: EpochMs, isOn: boolean): Finding | null => {
  const { high } = limit;
  const dueAt = startedAt + limit.onDelayS * secondMs;
  const last = values.at(-1);
  if (high === null || last === undefined || at < dueAt) return null;
  if (last.value <= high - (isOn ? limit.deadband : 0)) return null;
  const days = Math.round((limit.onDelayS * secondMs) / dayMs);
  return {
    side: 'high',
    value: last.value,
    limitValue: high,
    text: `pH ${last.value.toFixed(2)} is not at or below ${high.toFixed(1)} by day ${String(days)}.`,
    advice: 'Check the meter in a fresh buffer and measure again, mid-depth after stirring. Measure the salt and the temperature: cold or strong brine ferments slowly. Until pH is at or below 4.6 acid is no barrier: hold the lot if anything smells or looks wrong, and do not taste to find out. A guide only: local rules decide.',
  };
};
