import { describe, expect, test } from 'vitest';
import type { Cut } from '#domain/cure/batch.ts';
import { forecastReadiness, type ForecastInput, type Readiness } from '#domain/cure/forecast.ts';
import { growerGuess } from '#domain/cure/grower-guess.ts';
import { dayMs } from '#domain/units/time.ts';
import { threeThenWeekly } from '../helpers/cures.ts';
import { growerOf, lookedAt, lotOf, normals, rememberedAs, tasted, tastedEvery } from '../helpers/growers.ts';

/**
 * Growers who are made up: rates of their own, tastings ±1 score point, a tongue that is steadily off. What is known of them is known
 * exactly, so an interval that claims 80 % can be counted.
 */
interface Setting {
  readonly cut: Cut;
  readonly bias: number | 'drawn';
  readonly tasteEveryDays: number;
  /** Part of the way to sweet at which the forecast is read. */
  readonly part: number;
  readonly earlier: number;
}

const growers = 250;

interface Seen {
  readonly held: boolean;
  readonly heldByHalf: boolean;
  readonly heldByDouble: boolean;
  /** Of the logarithm of the days, so that slow and fast cures count alike. */
  readonly width: number;
  readonly widthWithout: number;
}

const look = ({ cut, bias, tasteEveryDays, part, earlier }: Setting, seed: number): Seen[] => {
  const normal = normals(seed);
  return Array.from({ length: growers }, () => {
    const grower = growerOf(cut, normal, bias === 'drawn' ? 0.6 * normal() : bias);
    const seasons = Array.from({ length: earlier }, () => {
      const lot = lotOf(grower, normal, threeThenWeekly);
      return rememberedAs(lot, tasted(lot, tastedEvery(tasteEveryDays, Math.min(lot.sweetDay, 600)), normal));
    });
    const lot = lotOf(grower, normal, threeThenWeekly);
    const day = Math.max(1, Math.round(Math.min(lot.sweetDay, 1_000) * part));
    const tastings = tasted(lot, tastedEvery(tasteEveryDays, day), normal);
    const forecast = known(lookedAt(lot, day, tastings, earlier === 0 ? undefined : growerGuess(cut, seasons)));
    const without = known(lookedAt(lot, day, tastings));
    const off = Math.log((lot.sweetDay * dayMs) / forecast.readyLikely);
    const isHeld = (times: number): boolean => off >= times * Math.log(forecast.readyFrom / forecast.readyLikely) && (forecast.openEnded || off <= times * Math.log(forecast.readyTo / forecast.readyLikely));
    return { held: isHeld(1), heldByHalf: isHeld(0.5), heldByDouble: isHeld(2), width: Math.log(forecast.readyTo / forecast.readyFrom), widthWithout: Math.log(without.readyTo / without.readyFrom) };
  });
};

const known = (input: ForecastInput): Readiness => {
  const forecast = forecastReadiness(input);
  if ('unknown' in forecast) throw new Error(forecast.unknown);
  return forecast;
};

const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
const share = (seen: readonly Seen[], of: (one: Seen) => boolean): number => seen.filter(of).length / seen.length;

/** What a season looks like: a first taste on day 7, then every few days. `bias`: as fixed, or drawn anew for each grower. */
const settings: readonly Setting[] = [
  { cut: 'slit', bias: 0, tasteEveryDays: 4, part: 0.6, earlier: 0 },
  { cut: 'slit', bias: 0.5, tasteEveryDays: 4, part: 0.6, earlier: 0 },
  { cut: 'slit', bias: -0.5, tasteEveryDays: 4, part: 0.8, earlier: 0 },
  { cut: 'slit', bias: 'drawn', tasteEveryDays: 4, part: 0.6, earlier: 3 },
  { cut: 'slit', bias: 'drawn', tasteEveryDays: 4, part: 0.1, earlier: 3 },
  { cut: 'whole', bias: 'drawn', tasteEveryDays: 5, part: 0.6, earlier: 0 },
  { cut: 'whole', bias: 0.5, tasteEveryDays: 10, part: 0.3, earlier: 3 },
  { cut: 'cracked', bias: -0.5, tasteEveryDays: 3, part: 0.6, earlier: 0 },
  { cut: 'pitted', bias: 'drawn', tasteEveryDays: 3, part: 0.6, earlier: 3 },
];

describe('an 80 % interval over growers who are made up', { timeout: 60_000 }, () => {
  // 250 growers: one standard deviation of a share of 0.8 is 0.025.
  test.each(settings)('holds between 70 and 90 % of $cut fruit, tongue $bias, tasted every $tasteEveryDays days, at $part of the way, after $earlier cures', (setting) => {
    const seen = look(setting, 20_260_425);
    const held = share(seen, (one) => one.held);
    const width = mean(seen.map((one) => one.width));
    const without = mean(seen.map((one) => one.widthWithout));
    console.info(`${setting.cut}, tongue ${setting.bias}, part ${setting.part}, ${setting.earlier} earlier: held ${(100 * held).toFixed(1)} %, ×/÷ ${Math.exp(width / 2).toFixed(2)}${setting.earlier === 0 ? '' : `, without earlier cures ×/÷ ${Math.exp(without / 2).toFixed(2)}`}`);
    expect(held).toBeGreaterThanOrEqual(0.7);
    expect(held).toBeLessThanOrEqual(0.9);
    if (setting.earlier > 0) expect(width).toBeLessThan(without);
    // Would notice: half or twice the interval leaves the band.
    expect(share(seen, (one) => one.heldByHalf)).toBeLessThan(0.7);
    expect(share(seen, (one) => one.heldByDouble)).toBeGreaterThan(0.9);
  });

  test('it narrows as a cure goes on and is tasted', () => {
    const widths = [0.2, 0.4, 0.6, 0.8].map((part) => mean(look({ cut: 'slit', bias: 'drawn', tasteEveryDays: 4, part, earlier: 0 }, 7).map((one) => one.width)));
    console.info(`slit, at 0.2, 0.4, 0.6 and 0.8 of the way: ×/÷ ${widths.map((width) => Math.exp(width / 2).toFixed(2)).join(', ')}`);
    expect(widths).toEqual(widths.toSorted((one, other) => other - one));
    expect(widths[3]).toBeLessThan(0.6 * (widths[0] ?? 0));
  });
});
