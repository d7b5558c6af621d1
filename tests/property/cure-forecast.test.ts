import { expect, test } from 'vitest';
import type { Cut } from '#domain/cure/batch.ts';
import { forecastReadiness } from '#domain/cure/forecast.ts';
import { courseAt, courseReaches } from '#domain/cure/leaching-course.ts';
import { endPointFlesh, hydrolysisRate, leachingRates } from '#domain/cure/leaching-defaults.ts';
import { leachingPriorSd } from '#domain/cure/leaching-fit.ts';
import { tastingScore } from '#domain/cure/tasting-score.ts';
import { dayMs } from '#domain/units/time.ts';
import { steadyCourse, threeThenWeekly } from '../helpers/cures.ts';
import { normals } from '../helpers/growers.ts';

interface Outcome { readonly held: boolean; readonly nearLikely: boolean }

/** Cures as the model believes they vary (rate, starting bitterness, hydrolysis), tasted by a taster one point unsure, looked at three fifths of the way. */
const outcomes = (cut: Cut, changeDays: readonly number[], tastings: number, cures: number): Outcome[] => {
  const normal = normals(20_260_422);
  return Array.from({ length: cures }, () => {
    const course = {
      ...steadyCourse({ cut, temperatureC: 18, changeDays, ratio: 1.5, startingFlesh: Math.exp(0.4 * normal()) }),
      leachingPerDay: leachingRates[cut].perDay * Math.exp(leachingPriorSd * normal()),
      hydrolysisPerDay: hydrolysisRate.perDay * Math.exp(0.62 * normal()),
    };
    const truth = courseReaches(course, endPointFlesh.sweet, 6_000 * dayMs) ?? Infinity;
    const today = Math.min(2_000, Math.max(1, Math.round((truth / dayMs) * 0.6)));
    const times = Array.from({ length: tastings }, (_, i) => ((i + 1) / tastings) * today * dayMs);
    const forecast = forecastReadiness({
      batch: { cut, maturity: 'green', startedAt: 0, fruitKg: 10, brineL: 8.0925 },
      temperatures: Array.from({ length: today + 1 }, (_, day) => ({ t: day * dayMs, temperatureC: 18 })),
      changes: course.changes.filter((change) => change.at <= today * dayMs),
      plannedChanges: course.changes.filter((change) => change.at > today * dayMs),
      tastings: courseAt(course, times).map((state, i) => ({ at: times[i] as number, bitterness: Math.min(10, Math.max(0, tastingScore(state.flesh) + normal())) })),
      now: today * dayMs,
    });
    if ('unknown' in forecast) return { held: false, nearLikely: false };
    const readyTo = forecast.openEnded ? Infinity : forecast.readyTo;
    return {
      held: truth >= forecast.readyFrom && truth <= readyTo,
      nearLikely: Math.abs(Math.log(truth / forecast.readyLikely)) < 0.1,
    };
  });
};
const share = (list: readonly Outcome[], of: keyof Outcome): number => list.filter((outcome) => outcome[of]).length / list.length;

// 200 cures: one standard deviation of a share of 0.8 is 0.028; the band allows three on either side.
test.each<{ cut: Cut; brine: 'changed' | 'kept'; tastings: number }>([
  { cut: 'slit', brine: 'changed', tastings: 0 }, { cut: 'slit', brine: 'changed', tastings: 4 }, { cut: 'whole', brine: 'changed', tastings: 8 },
  { cut: 'whole', brine: 'kept', tastings: 0 }, { cut: 'whole', brine: 'kept', tastings: 5 },
])('an 80 % interval holds about four cures in five: $cut fruit, brine $brine, $tastings tastings', ({ cut, brine, tastings }) => {
  const list = outcomes(cut, brine === 'kept' ? [] : threeThenWeekly, tastings, 200);
  expect(share(list, 'held')).toBeGreaterThan(0.71);
  expect(share(list, 'held')).toBeLessThan(0.92);
  // Would notice: an interval of ±10 % about the likely day holds far fewer.
  expect(share(list, 'nearLikely')).toBeLessThan(0.6);
});
