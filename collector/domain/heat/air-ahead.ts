import type { TemperatureReading } from '../cure/temperature-dose.ts';
import type { TemperatureSpan } from '../cure/temperature-span.ts';
import { localDate } from '../cure/stage.ts';
import { dayMs, hourMs, minuteMs, type EpochMs } from '../units/time.ts';
import type { AirDay } from './air-day.ts';
import { valueAt } from './value-at.ts';

export interface AirAhead {
  readonly spans: readonly TemperatureSpan[];
  /** Local days (`2026-11-26`) that go by what a person typed; every other day is taken to be like the last one. */
  readonly entered: readonly string[];
}

export interface AirPast {
  /** Air readings, oldest first, up to now. */
  readonly past: readonly TemperatureReading[];
  readonly now: EpochMs;
  readonly zone: string;
  readonly days: ReadonlyMap<string, AirDay>;
}

/**
 * The air of the next hours without the internet: the last 24 hours again, their lowest and highest moved to what was typed for a day.
 *
 * air(t) = L + (p(t) - l)(H - L)/(h - l), p: the air at the same time of the last 24 hours, l and h its lowest and highest; on a day
 * for which nothing was typed L = l and H = h; within three hours of midnight the two days are mixed. What the air is off from that now
 * fades, d e^(-Δt/6 h).
 *
 * Source: persistence, the plainest weather forecast there is; the 6 hours are an assumption. Units: °C.
 * Valid where the last 24 hours hold no gap longer than 3 h; otherwise null.
 * Example: yesterday 12 to 20 °C with 16 °C at 10:00; typed 14 and 26 °C for tomorrow: 20 °C at 10:00.
 */
export const airAhead = ({ past, now, zone, days }: AirPast, hours: number): AirAhead | null => {
  const last = past.filter(({ t }) => t > now - dayMs - 2 * stepMs && t <= now);
  if (!covers(last, now)) return null;
  const values = last.map(({ temperatureC }) => temperatureC);
  const [lowest, highest] = [Math.min(...values), Math.max(...values)];
  const entered = new Set<string>();
  const rangeOf = (at: EpochMs): AirDay => {
    const day = localDate(at, zone).toString();
    const typed = days.get(day);
    if (typed === undefined) return { lowC: lowest, highC: highest };
    entered.add(day);
    return typed;
  };
  const expected = (at: EpochMs): number => {
    const before = valueAt(last, at - Math.max(1, Math.ceil((at - now) / dayMs)) * dayMs);
    const share = highest - lowest < leastSwingC ? 0.5 : (before - lowest) / (highest - lowest);
    // No day begins with a jump: around midnight the two are mixed.
    const [one, next] = [rangeOf(at - mixedMs), rangeOf(at + mixedMs)];
    const weight = Math.min(1, Math.max(0, (at + mixedMs - midnight(at + mixedMs, zone)) / (2 * mixedMs)));
    const mixed = (of: (range: AirDay) => number): number => (1 - weight) * of(one) + weight * of(next);
    const [low, high] = [mixed(({ lowC }) => lowC), mixed(({ highC }) => highC)];
    return low + share * (high - low);
  };
  const offNow = valueAt(last, now) - expected(now);
  const points = Array.from({ length: Math.ceil((hours * hourMs) / stepMs) + 1 }, (_none, index) => expected(now + index * stepMs) + offNow * Math.exp((-index * stepMs) / fadeMs));
  const spans = points.slice(1).map((toC, index): TemperatureSpan => ({ hours: stepMs / hourMs, fromC: points[index] ?? toC, toC }));
  return { spans, entered: [...entered] };
};

const stepMs = 30 * minuteMs;
const fadeMs = 6 * hourMs;
const mixedMs = 3 * hourMs;
const longestGapMs = 3 * hourMs;
const leastSwingC = 0.5;

const midnight = (at: EpochMs, zone: string): EpochMs => localDate(at, zone).toZonedDateTime(zone).epochMilliseconds;

const covers = (last: readonly TemperatureReading[], now: EpochMs): boolean => {
  const times = [now - dayMs, ...last.map(({ t }) => t), now];
  return last.length > 1 && times.every((t, index) => index === 0 || t - (times[index - 1] ?? t) <= longestGapMs);
};
