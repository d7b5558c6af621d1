import type { TemperatureReading } from '../cure/temperature-dose.ts';
import { hourMs, type EpochMs } from '../units/time.ts';
import type { Finding } from './finding.ts';
import type { Limit } from './limit.ts';

/**
 * Rule of kind `rate`: the brine warms or cools faster than a full drum can.
 *
 * rate = mean of the last ten minutes - mean of those an hour before, in °C per hour; true above `high`, over below `high - deadband`.
 * Source: assumption. A drum of 60 L follows its air with a time constant of ten hours and more: 15 °C warmer air moves it 1.5 °C in the first hour.
 * A change of brine moves it faster, so nothing is judged for `settledMs` after one.
 * Example: 18.0 °C an hour ago and 22.0 °C now: 4 °C per hour, outside a limit of 3.
 */
export const settledMs = 3 * hourMs;

export const judgeRate = (limit: Limit, trace: readonly TemperatureReading[], disturbed: readonly EpochMs[], at: EpochMs, isOn: boolean): Finding | null => {
  const { high } = limit;
  const last = trace.at(-1);
  if (high === null || last === undefined || disturbed.some((each) => each <= at && at - each < settledMs)) return null;
  const before = trace.findLast(({ t }) => t === last.t - hourMs);
  if (before === undefined) return null;
  const rate = last.temperatureC - before.temperatureC;
  if (Math.abs(rate) <= high - (isOn ? limit.deadband : 0)) return null;
  return {
    side: null,
    value: Math.abs(rate),
    limitValue: high,
    text: `Brine ${rate > 0 ? 'warmed' : 'cooled'} by ${Math.abs(rate).toFixed(1)} °C in an hour, faster than a full drum can.`,
    advice: 'Look whether the probe still hangs in the brine, and whether the drum leaks or stands in the sun. If the brine was just changed, write it down.',
  };
};
