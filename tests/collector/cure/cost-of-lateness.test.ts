import { describe, expect, it } from 'vitest';
import { arrheniusFactor } from '#domain/cure/arrhenius.ts';
import type { ChangeChoice } from '#domain/cure/change-plans.ts';
import { costOfLateness, type ChangeOutcome, type CostOfLateness, type LatenessInput } from '#domain/cure/cost-of-lateness.ts';
import { lateText } from '#domain/cure/late-text.ts';
import { hydrolysisActivationEnergy, leachingActivationEnergy } from '#domain/cure/leaching-defaults.ts';
import { changeSteps, type Steps } from '#domain/cure/schedules.ts';
import { dayMs } from '#domain/units/time.ts';
import { steppedDaysTo } from '../../helpers/leaching-oracle.ts';

const weekly: Steps = { afterDays: [2, 2, 2], thenEveryDays: [7], source: 'test' };
const day = (days: number): number => days * dayMs;

/** Slit green fruit, 1.5 L of brine to a litre of flesh water, three changes made in the first week; the fourth is due on day 13. */
const cure = (over: Partial<LatenessInput> = {}): LatenessInput => ({
  batch: { cut: 'slit', maturity: 'green', startedAt: 0, fruitKg: 10, brineL: 8.0925 },
  temperatures: [{ t: 0, temperatureC: 15 }],
  changes: [2, 4, 6].map((each) => ({ at: day(each), fraction: 1 })),
  tastings: [],
  now: day(13),
  open: { step: { id: 'x', kind: 'change-brine', ordinal: 4, dueAt: day(13) }, medium: 'brine', steps: weekly },
  brine: { brineL: 27, saltGPerL: 100 },
  ...over,
});
const known = (input: LatenessInput): CostOfLateness => {
  const cost = costOfLateness(input);
  if ('unknown' in cost) throw new Error(cost.unknown);
  return cost;
};
const outcome = (cost: CostOfLateness, choice: ChangeChoice): ChangeOutcome => {
  const found = cost.outcomes.find((each) => each.choice === choice);
  if (found === undefined) throw new Error(`no outcome ${choice}`);
  return found;
};

describe('what a late change costs', () => {
  /** The starting guess of slit fruit (0.08 a day at 20 °C, breakdown 0.0045) brought to 15 °C. */
  const stepped = (changes: readonly { readonly day: number; readonly fraction: number }[]): number =>
    steppedDaysTo({ leachingPerDay: 0.08 * arrheniusFactor(15, leachingActivationEnergy), hydrolysisPerDay: 0.0045 * arrheniusFactor(15, hydrolysisActivationEnergy), ratio: 1.5, startingFlesh: 1, changes }, 0.1);
  const made = [2, 4, 6].map((each) => ({ day: each, fraction: 1 }));
  const weeklyFrom = (first: number) => Array.from({ length: 20 }, (_, index) => ({ day: first + 7 * index, fraction: 1 }));

  it.each<[ChangeChoice, ReturnType<typeof weeklyFrom>]>([
    ['on-time', weeklyFrom(13)],
    ['day-late', weeklyFrom(14)],
    ['three-days-late', weeklyFrom(16)],
    ['left-out', weeklyFrom(20)],
    ['half', [{ day: 13, fraction: 0.5 }, ...weeklyFrom(20)]],
  ])('agrees with the equations stepped forward: %s', (choice, planned) => {
    const cost = known(cure());
    const expected = stepped([...made, ...planned]);
    expect((outcome(cost, choice).readyLikely ?? Number.NaN) / dayMs).toBeCloseTo(expected, 1);
    expect(outcome(cost, choice).laterDays).toBeCloseTo(expected - stepped([...made, ...weeklyFrom(13)]), 1);
  });

  // Common practice, no source: in a slit cure changed weekly a late change costs part of a day, one left out some days.
  it('is part of a day for a day late, and a couple of days for one left out; a half change lies between', () => {
    const cost = known(cure());
    const [late, half, out] = [outcome(cost, 'day-late'), outcome(cost, 'half'), outcome(cost, 'left-out')].map(({ laterDays }) => laterDays ?? Number.NaN) as [number, number, number];
    expect(late).toBeGreaterThan(0.1);
    expect(late).toBeLessThan(1);
    expect(half).toBeGreaterThan(late);
    expect(out).toBeGreaterThan(half);
    expect(out).toBeLessThan(4);
  });

  it('counts an overdue change as made today at best, and a left-out one runs on from its own day', () => {
    const cost = known(cure({ now: day(16) }));
    expect((outcome(cost, 'on-time').readyLikely ?? 0) / dayMs).toBeCloseTo(stepped([...made, ...weeklyFrom(16)]), 1);
    expect((outcome(cost, 'left-out').readyLikely ?? 0) / dayMs).toBeCloseTo(stepped([...made, ...weeklyFrom(20)]), 1);
  });

  it('offers one more today only where the change is not yet due', () => {
    expect(known(cure()).outcomes.map(({ choice }) => choice)).not.toContain('extra');
    const extra = outcome(known(cure({ now: day(10) })), 'extra');
    expect((extra.readyLikely ?? 0) / dayMs).toBeCloseTo(stepped([...made, { day: 10, fraction: 1 }, ...weeklyFrom(13)]), 1);
  });

  it('adds up what is poured until it is sweet: every change by its fraction', () => {
    const cost = known(cure());
    const sweet = (outcome(cost, 'on-time').readyLikely ?? 0) / dayMs;
    const count = weeklyFrom(13).filter((each) => each.day < sweet).length;
    expect(outcome(cost, 'on-time')).toMatchObject({ brineL: count * 27, saltG: count * 2_700 });
    expect(outcome(cost, 'half').brineL).toBe(outcome(cost, 'on-time').brineL - 13.5);
  });

  it('follows the steps that are left of the first week, not the weekly ones alone', () => {
    const early = known(cure({ now: day(2), changes: [], open: { step: { id: 'x', kind: 'change-brine', ordinal: 1, dueAt: day(2) }, medium: 'brine', steps: weekly } }));
    expect((outcome(early, 'on-time').readyLikely ?? 0) / dayMs).toBeCloseTo(stepped([...made, ...weeklyFrom(13)]), 1);
  });

  it('says that it is a guess below three tastings, and says nothing without a temperature', () => {
    const tastings = [5, 8, 11].map((each) => ({ at: day(each), bitterness: 7 }));
    expect([0, 1, 2, 3].map((count) => known(cure({ tastings: tastings.slice(0, count) })).isGuess)).toEqual([true, true, true, false]);
    expect(costOfLateness(cure({ temperatures: [] }))).toEqual({ unknown: 'no temperature readings of this drum yet' });
  });

  it('narrows with tastings', () => {
    const spread = ({ lowDays, highDays }: ChangeOutcome): number => (highDays ?? Number.NaN) - (lowDays ?? Number.NaN);
    const tastings = [5, 8, 11, 13].map((each) => ({ at: day(each), bitterness: 7 }));
    expect(spread(outcome(known(cure({ tastings })), 'left-out'))).toBeLessThan(spread(outcome(known(cure()), 'left-out')) / 2);
  });
});

describe('in words', () => {
  const guess = ' Mostly the starting guess: fewer than three tastings.';
  const words = (laterDays: Partial<Record<ChangeChoice, number | null>>, over: Partial<CostOfLateness> = {}): string =>
    lateText({
      isSweetByNow: false, tastings: 0, isGuess: false, ...over,
      outcomes: Object.entries({ 'on-time': 0, ...laterDays }).map(([choice, later]) => ({ choice: choice as ChangeChoice, readyLikely: 0, laterDays: later, lowDays: later, highDays: later, brineL: choice === 'left-out' ? 108 : 135, saltG: choice === 'left-out' ? 10_800 : 13_500 })),
    });

  it.each([
    [0.29, 2.02, 'A day later makes it a few hours later; leaving it out makes it about 2 days later and saves 27 L and 2.7 kg of salt.'],
    [0.5, 1, 'A day later makes it about half a day later; leaving it out makes it about a day later and saves 27 L and 2.7 kg of salt.'],
    [0.05, 0.1, 'A day later or left out, it makes hardly any difference; leaving it out saves 27 L and 2.7 kg of salt.'],
    [-0.4, 1.5, 'A day later makes it no later; leaving it out makes it about a day and a half later and saves 27 L and 2.7 kg of salt.'],
    [1, null, 'A day later makes it about a day later; leaving it out makes it take more than three years and saves 27 L and 2.7 kg of salt.'],
  ])('%s and %s days', (late, out, text) => expect(words({ 'day-late': late, 'left-out': out })).toBe(text));

  it('the guess is named', () => expect(words({ 'day-late': 0.5, 'left-out': 1 }, { isGuess: true })).toMatch(new RegExp(`${guess}$`)));
  it('one more today is told where it helps', () => {
    expect(words({ 'day-late': 0.5, 'left-out': 1, extra: -1.2 })).toMatch(/ One more today makes it about a day sooner\.$/);
    expect(words({ 'day-late': 0.5, 'left-out': 1, extra: -0.1 })).not.toMatch(/One more/);
  });
  it('fruit that is sweet by the model is tasted, not changed', () => {
    const cost = known(cure({ now: day(60), open: { ...cure().open, step: { ...cure().open.step, dueAt: day(60) } }, changes: [2, 4, 6, 13, 20, 27, 34, 41, 48, 55].map((each) => ({ at: day(each), fraction: 1 })) }));
    expect(lateText(cost)).toBe(`By the model it is sweet already: taste before another change.${guess}`);
  });
});

it('the default schedule is what the examples are about', () => {
  expect(changeSteps['changed-brine'].brine).toMatchObject({ afterDays: [2, 2, 2], thenEveryDays: [7] });
});
