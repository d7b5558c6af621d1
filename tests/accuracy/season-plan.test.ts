import { quantile, quantileSorted } from 'simple-statistics';
import { describe, expect, test } from 'vitest';
import { playSeason } from '#domain/season/play-season.ts';
import { planSeason, type Band, type SeasonPlan } from '#domain/season/season-plan.ts';
import { seasonPlanDefaults, type SeasonPlanInput } from '#domain/season/plan-input.ts';
import { mean, variance } from '#domain/stats/moments.ts';
import { quantileOfSorted } from '#domain/stats/quantile.ts';
import { seededUniform } from '#domain/stats/seeded-uniform.ts';
import { triangular, triangularMean, type Spread } from '#domain/stats/triangular.ts';
import { checkAccuracy } from '../helpers/accuracy.ts';
import { valueOf } from '../helpers/value-of.ts';

const certain = (value: number): Spread => ({ low: value, likely: value, high: value });
const noSpread: SeasonPlanInput = {
  ...seasonPlanDefaults, treesOn: 8, treesOff: 6, onKg: certain(18), offKg: certain(7), year: certain(1), cullShare: certain(0.08), cureDays: certain(38), jarCullShare: 0.03,
  picks: 3, daysBetweenPicks: 14, drums: 6, drumL: 60, brinesPerDrum: 10, brinePercentWw: 10, waterChanges: 0, jarMl: 720, vinegarShare: 0.2,
};
const plan = (input: Partial<SeasonPlanInput> = {}, seed = 1): SeasonPlan => valueOf(planSeason({ ...noSpread, ...input }, seededUniform(seed)));

checkAccuracy<(worked: SeasonPlan, oneBrine: SeasonPlan) => number>({
  quantity: 'a season without spread',
  unit: '',
  source: 'by hand: 8 × 18 kg + 6 × 7 kg, 8 % culls; 28.6 kg and 26.5 L a drum of 60 L; 0.396 kg and 0.267 L a jar of 720 mL, 3 % left out, 10 % lost; 107 g/L at 10 %',
  confidence: 'computed from cited inputs by the cited equation',
  tolerance: 0.003,
  relative: true,
  reason: 'stated to three figures at most',
  rows: [
    [({ figures }) => figures.fruitKg.p50, 186], [({ figures }) => figures.cleanKg.p50, 171], [({ figures }) => figures.drums.p50, 6], [({ figures }) => figures.jars.p50, 419],
    [({ figures }) => figures.lids.p50, 440], [({ figures }) => figures.jarBrineL.p50, 123], [({ shopping }) => shopping.vinegarL, 25], [(_worked, { figures }) => figures.cureSaltKg.p50, 17],
    [({ figures }) => figures.cureSaltKg.p50, 170], [({ figures }) => figures.wasteBrineL.p50, 1_590],
  ],
  actual: (of) => of(plan(), plan({ brinesPerDrum: 1 })),
  mistakes: {
    'culls left in': (of) => of(plan({ cullShare: certain(0) }), plan({ brinesPerDrum: 1, cullShare: certain(0) })),
    'a drum that takes its whole volume in fruit and brine': (of) => of(plan({ drumL: 66 }), plan({ brinesPerDrum: 1, drumL: 66 })),
    'all trees alike': (of) => of(plan({ offKg: certain(18) }), plan({ brinesPerDrum: 1, offKg: certain(18) })),
  },
});

test('plain water in the first week, four changes, saves 68 kg of salt and no litre of brine (same hand calculation)', () => {
  const [salted, watered] = [plan(), plan({ waterChanges: 4 })];
  expect(salted.figures.cureSaltKg.p50 - watered.figures.cureSaltKg.p50).toBeCloseTo(68, 0);
  expect(watered.figures.wasteBrineL).toEqual(salted.figures.wasteBrineL);
});

test('without spread every quantile is the same, and every week is known', () => {
  const { figures, weeks, shortChance } = plan();
  for (const band of [...Object.values(figures), ...weeks] as Band[]) expect([band.p10, band.p90]).toEqual([band.p50, band.p50]);
  // Picks on days 0, 14 and 28 of two drums each, 38 days each: all six from day 28 to day 38.
  expect(weeks.map(({ p50 }) => p50)).toEqual([2, 2, 4, 4, 6, 6, 4, 4, 2, 2]);
  expect(shortChance).toBe(0);
  expect(figures.firstStallDay.p50).toBe(38 + 14);
});

describe('quantiles', () => {
  const uniform = seededUniform(11);
  const values = Array.from({ length: 1_000 }, () => uniform() ** 3 * 100);
  const sorted = values.toSorted((one, other) => one - other);
  test.each([0.01, 0.1, 0.25, 0.5, 0.8, 0.9, 0.99, 0.1234])('at %d agree with simple-statistics 7.12.1', (p) => {
    expect(quantileOfSorted(sorted, p)).toBeCloseTo(quantileSorted(sorted, p), 12);
    expect(quantileOfSorted(sorted, p)).toBeCloseTo(quantile(values, p), 12);
  });
  test('of 1 to 10 are those of definition 7 of Hyndman & Fan 1996', () => {
    const ten = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10];
    expect([0, 0.1, 0.25, 0.5, 0.8, 0.9, 1].map((p) => quantileOfSorted(ten, p))).toEqual([1, 1.9, 3.25, 5.5, 8.2, 9.1, 10]);
    expect(quantileOfSorted([], 0.5)).toBeNaN();
  });
});

describe('draws', () => {
  const draws = 200_000;
  const sample = (draw: () => number): number[] => Array.from({ length: draws }, draw);

  test('are uniform: mean 1/2, variance 1/12, and every tenth holds a tenth (chi-square, 9 degrees, below 27.9: 99.9 %)', () => {
    const values = sample(seededUniform(3));
    // Four standard errors of the mean, of the variance.
    expect(Math.abs(mean(values) - 0.5)).toBeLessThan(4 * Math.sqrt(1 / 12 / draws));
    expect(Math.abs(variance(values) - 1 / 12)).toBeLessThan(4 * Math.sqrt((1 / 80 - 1 / 144) / draws));
    const tenths = Array.from({ length: 10 }, () => 0);
    for (const value of values) tenths[Math.floor(value * 10)] = (tenths[Math.floor(value * 10)] ?? 0) + 1;
    expect(tenths.reduce((sum, count) => sum + (count - draws / 10) ** 2 / (draws / 10), 0)).toBeLessThan(27.9);
  });

  test('of neighbouring seeds and of neighbouring places have nothing to do with each other', () => {
    const [one, other] = [sample(seededUniform(1)), sample(seededUniform(2))];
    const correlation = (left: readonly number[], right: readonly number[]): number => left.reduce((sum, value, i) => sum + (value - 0.5) * ((right[i] ?? 0.5) - 0.5), 0) / left.length / (1 / 12);
    expect(Math.abs(correlation(one, other))).toBeLessThan(4 / Math.sqrt(draws));
    expect(Math.abs(correlation(one, one.slice(1)))).toBeLessThan(4 / Math.sqrt(draws));
  });

  test.each([{ low: 12, likely: 18, high: 25 }, { low: 3, likely: 3, high: 11 }, { low: 0, likely: 4, high: 4 }])('of a triangular spread $low, $likely, $high have its mean and variance', (spread) => {
    const { low: a, likely: m, high: b } = spread;
    const uniform = seededUniform(5);
    const values = sample(() => triangular(spread, uniform()));
    const expected = (a * a + m * m + b * b - a * m - a * b - m * b) / 18;
    expect(triangularMean(spread)).toBeCloseTo((a + m + b) / 3, 12);
    expect(Math.abs(mean(values) - (a + m + b) / 3)).toBeLessThan(4 * Math.sqrt(expected / draws));
    expect(variance(values) / expected).toBeCloseTo(1, 1);
    expect(Math.min(...values.slice(0, 10_000))).toBeGreaterThanOrEqual(a);
    expect(Math.max(...values.slice(0, 10_000))).toBeLessThanOrEqual(b);
  });
});

describe('a thousand seasons', () => {
  const only = { cullShare: certain(0), offKg: certain(0), treesOff: 0, year: certain(1) };

  test('of one tree have the quantiles of its spread (inverse of the triangular distribution)', () => {
    const onKg = { low: 10, likely: 20, high: 40 };
    const { fruitKg } = plan({ ...only, treesOn: 1, onKg, drums: 2 }, 9).figures;
    // Density at the quantiles 0.1, 0.5 and 0.9 gives their standard errors: √(p(1 - p)/n)/f; four of them.
    for (const [p, found] of [[0.1, fruitKg.p10], [0.5, fruitKg.p50], [0.9, fruitKg.p90]] as const) {
      const expected = triangular(onKg, p);
      const density = expected <= 20 ? (2 * (expected - 10)) / (30 * 10) : (2 * (40 - expected)) / (30 * 20);
      expect(Math.abs(found - expected)).toBeLessThan((4 * Math.sqrt((p * (1 - p)) / 1_000)) / density);
    }
  });

  test('of many trees have the mean and the variance of a sum', () => {
    const onKg = { low: 12, likely: 18, high: 25 };
    const input = { ...noSpread, ...only, treesOn: 40, onKg, drums: 40 };
    const uniform = seededUniform(21);
    const { measures } = plan(input);
    const sums = Array.from({ length: 4_000 }, () => playSeason(input, measures, uniform).fruitKg);
    const one = (144 + 324 + 625 - 12 * 18 - 12 * 25 - 18 * 25) / 18;
    expect(Math.abs(mean(sums) - 40 * (55 / 3))).toBeLessThan(4 * Math.sqrt((40 * one) / 4_000));
    expect(variance(sums) / (40 * one)).toBeGreaterThan(0.9);
    expect(variance(sums) / (40 * one)).toBeLessThan(1.1);
    // A common year moves all trees together: the spread of a sum no longer shrinks.
    const shared = Array.from({ length: 4_000 }, () => playSeason({ ...input, year: { low: 0.7, likely: 1, high: 1.3 } }, measures, uniform).fruitKg);
    expect(variance(shared) / variance(sums)).toBeGreaterThan(20);
  });

  test('are the same for the same seed, and others for another', () => {
    expect(plan(seasonPlanDefaults, 4)).toEqual(plan(seasonPlanDefaults, 4));
    expect(plan(seasonPlanDefaults, 4).figures.fruitKg).not.toEqual(plan(seasonPlanDefaults, 5).figures.fruitKg);
  });

  test('say how often the drums do not do, and buy for four seasons of five', () => {
    const { shortChance, figures, shopping } = plan({ ...seasonPlanDefaults, drums: 5 });
    expect(shortChance).toBeGreaterThan(0.8);
    expect(figures.drumsShort.p10).toBeGreaterThanOrEqual(1);
    expect(shopping.jars).toBeGreaterThan(figures.jars.p50);
    expect(shopping.jars).toBeLessThan(figures.jars.p90);
    expect(plan({ ...seasonPlanDefaults, drums: 60 }).shortChance).toBe(0);
  });
});

describe('what makes no season is refused by its field', () => {
  test.each<[Partial<SeasonPlanInput>, string]>([
    [{ treesOn: 0, treesOff: 0 }, 'treesOn'], [{ treesOn: 1.5 }, 'treesOn'], [{ onKg: { low: 5, likely: 4, high: 9 } }, 'onKg.likely'], [{ cullShare: { low: 0, likely: 0.1, high: 1.2 } }, 'cullShare.high'],
    [{ waterChanges: 11 }, 'waterChanges'], [{ drumL: 5 }, 'drumL'], [{ picks: 0 }, 'picks'], [{ treesOn: 500, onKg: certain(400) }, 'treesOn'], [{ jarMl: Number.NaN }, 'jarMl'],
  ])('%j: %s', (wrong, field) => {
    expect(planSeason({ ...noSpread, ...wrong }, seededUniform(1))).toMatchObject({ ok: false, error: { code: 'outside-valid-range', field } });
  });
});
