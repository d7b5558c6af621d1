import type { TemperatureReading } from '../cure/temperature-dose.ts';
import { hourMs, type EpochMs } from '../units/time.ts';
import type { Finding } from './finding.ts';
import type { Limit } from './limit.ts';

/**
 * Rule of kind `stuck`: a series shows one and the same value for `high` hours while another temperature of the shed moves.
 *
 * True when the ten-minute means of the span lie within `resolutionC` of one another and those of a neighbour over the same span do not lie
 * within `movesC`. Without a neighbour that moves nothing is said: in a cellar all stand still.
 * Source: assumption; resolution of a DS18B20 at 12 bits is 0.0625 °C (datasheet), and a drum drifts by more than that in half a day.
 * Example: 18.25 °C for twelve hours while the air went from 12 to 19 °C: stuck.
 */
const resolutionC = 0.01;
const movesC = 2;
/** A span with fewer of its means than this share is not judged. */
const leastShare = 0.8;
const meansPerHour = 6;

/** `neighbours` are asked for only where the series itself stands still: that is seldom. */
export const judgeStuck = (limit: Limit, trace: readonly TemperatureReading[], neighbours: () => readonly (readonly TemperatureReading[])[], at: EpochMs): Finding | null => {
  const { high } = limit;
  if (high === null) return null;
  const from = at - high * hourMs;
  const own = spanOf(trace, from);
  if (own === null || own.count < high * meansPerHour * leastShare || own.high - own.low > resolutionC) return null;
  const moved = neighbours().some((other) => {
    const span = spanOf(other, from);
    return span !== null && span.high - span.low >= movesC;
  });
  if (!moved) return null;
  return {
    side: null,
    value: own.low,
    limitValue: high,
    text: `Brine has shown ${own.low.toFixed(2)} °C without any change for ${String(high)} hours, while others moved.`,
    advice: 'Treat the temperature as unknown and measure by hand. Lift the probe out and see whether it follows; a wet sensor shows one plausible value for ever.',
  };
};

const spanOf = (trace: readonly TemperatureReading[], from: EpochMs): { readonly low: number; readonly high: number; readonly count: number } | null => {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  let count = 0;
  for (const { t, temperatureC } of trace) {
    if (t < from) continue;
    low = Math.min(low, temperatureC);
    high = Math.max(high, temperatureC);
    count += 1;
  }
  return count === 0 ? null : { low, high, count };
};
