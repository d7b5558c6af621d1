import { describe, expect, test } from 'vitest';
import type { Cut } from '#domain/cure/batch.ts';
import { forecastReadiness } from '#domain/cure/forecast.ts';
import type { Tasting } from '#domain/cure/leaching-fit.ts';
import { nextTasting, type NextTasting } from '#domain/cure/next-tasting.ts';
import { dayMs } from '#domain/units/time.ts';
import { every, threeThenWeekly } from '../helpers/cures.ts';
import { growerOf, lookedAt, lotOf, normals, tasted, type Lot } from '../helpers/growers.ts';

const zone = 'UTC';

/** The width of the forecast's interval, of the logarithm of the days. */
const widthOf = (lot: Lot, day: number, tastings: readonly Tasting[]): number => {
  const forecast = forecastReadiness(lookedAt(lot, day, tastings));
  if ('unknown' in forecast) throw new Error(forecast.unknown);
  return Math.log(forecast.readyTo / forecast.readyFrom);
};

const chosenAfter = (lot: Lot, day: number, tastings: readonly Tasting[]): NextTasting => {
  const next = nextTasting(lookedAt(lot, day, tastings), day * dayMs, zone);
  if (next === null) throw new Error('no day was chosen');
  return next;
};

/** A lot tasted some times, once a week from day 14. */
const started = (cut: Cut, count: number, normal: () => number): { readonly lot: Lot; readonly day: number; readonly tastings: readonly Tasting[] } => {
  const lot = lotOf(growerOf(cut, normal, 0), normal, cut === 'cracked' ? every(1, 200) : threeThenWeekly);
  const days = Array.from({ length: count }, (_, i) => 14 + 7 * i);
  return { lot, day: days.at(-1) ?? 7, tastings: tasted(lot, days, normal) };
};

describe('the next tasting', { timeout: 60_000 }, () => {
  test.each<{ cut: Cut; count: number }>([{ cut: 'slit', count: 0 }, { cut: 'slit', count: 2 }, { cut: 'whole', count: 2 }, { cut: 'whole', count: 4 }])(
    'on the day chosen shrinks the interval at least as much, on average, as a week later: $cut fruit, $count tastings',
    ({ cut, count }) => {
      const normal = normals(20_260_426);
      const shrinks = Array.from({ length: 150 }, () => started(cut, count, normal))
        // Fruit that is sweet within the week needs no day.
        .filter(({ lot, day }) => lot.sweetDay > day + 7)
        .map(({ lot, day, tastings }) => {
          const before = widthOf(lot, day, tastings);
          const noise = normal();
          const shrinkOn = (on: number): number => before - widthOf(lot, on, [...tastings, ...tasted(lot, [on], () => noise)]);
          const on = chosenAfter(lot, day, tastings).at / dayMs;
          return { chosen: shrinkOn(on), weekly: shrinkOn(day + 7), tomorrow: shrinkOn(day + 1), days: on - day };
        });
      const mean = (of: (one: (typeof shrinks)[number]) => number): number => shrinks.reduce((sum, one) => sum + of(one), 0) / shrinks.length;
      console.info(`${cut}, ${count} tastings, ${shrinks.length} cures: on the chosen day ${mean((one) => one.chosen).toFixed(3)}, a week later ${mean((one) => one.weekly).toFixed(3)}; chosen after ${mean((one) => one.days).toFixed(1)} days`);
      expect(mean((one) => one.chosen)).toBeGreaterThanOrEqual(mean((one) => one.weekly));
      // Would notice: tasting again on the very next morning teaches less than the day chosen.
      expect(mean((one) => one.chosen)).toBeGreaterThan(1.1 * mean((one) => one.tomorrow));
    },
  );

  test('does not ask for a taste of what cannot be sweet, and asks in time for what may be', () => {
    const normal = normals(1);
    const { lot, day, tastings } = started('whole', 1, normal);
    const slow = chosenAfter(lot, day, tastings);
    expect(slow.at / dayMs - day).toBeGreaterThan(14);
    expect(slow.notBefore).toBeGreaterThan(slow.at - 60 * dayMs);
    expect(slow.spreadAfter).toBeLessThan(slow.spreadNow);
    const nearly = tasted({ ...lot, grower: { ...lot.grower, bias: -lot.grower.bias } }, [14], () => 0).map((tasting) => ({ ...tasting, bitterness: 1.5 }));
    const soon = nextTasting(lookedAt({ ...lot, grower: { ...lot.grower, cut: 'cracked' } }, 14, nearly), 14 * dayMs, zone);
    expect(soon?.at).toBeLessThan(18 * dayMs);
  });

  test('a day that has passed stays the one that was due', () => {
    const { lot, day, tastings } = started('slit', 2, normals(3));
    const [early, late] = [day + 1, day + 6].map((now) => nextTasting(lookedAt(lot, now, tastings), day * dayMs, zone)?.at);
    expect(early).toBe(late);
  });

  test('falls on local mornings, over a change of the clocks', () => {
    const { lot, day, tastings } = started('slit', 2, normals(3));
    const next = nextTasting(lookedAt(lot, day, tastings), day * dayMs, 'Europe/Athens');
    expect(Temporal.Instant.fromEpochMilliseconds(next?.at ?? 0).toZonedDateTimeISO('Europe/Athens').hour).toBe(8);
  });
});
