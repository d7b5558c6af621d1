import { describe, expect, test } from 'vitest';
import type { AttributedCure, DaysAttribution } from '#domain/cure/attribute-days.ts';
import { attributeDays, cureFactors } from '#domain/cure/attribute-days.ts';
import { dayMs } from '#domain/units/time.ts';
import { inventCure, modelDaysOf, plainCure, type InventedCure } from '../../helpers/attributed-cures.ts';
import { valueOf } from '../../helpers/value-of.ts';

/** All cures here are invented. */
const year = 365 * dayMs;
const share = (one: AttributedCure, other: AttributedCure): DaysAttribution => valueOf(attributeDays(one, other, 1));
const sum = (parts: DaysAttribution['parts']): number => cureFactors.reduce((total, factor) => total + parts[factor], 0);

describe('one factor differs', () => {
  const cases: readonly (readonly [(typeof cureFactors)[number], Partial<InventedCure>])[] = [
    ['temperature', { temperatureC: 12 }], ['changes', { everyDays: 14 }], ['cut', { cut: 'whole' }], ['maturity', { maturity: 'black' }], ['ratio', { brineL: 15 }],
  ];
  test.each(cases)('%s gets all of the difference, the others exactly nothing', (factor, over) => {
    const { parts, differenceDays, unexplainedDays } = share(inventCure({ ...over, startedAt: year }), inventCure());
    const alone = modelDaysOf({ ...plainCure, ...over }) - modelDaysOf(plainCure);
    expect(Math.abs(alone)).toBeGreaterThan(1);
    expect(differenceDays).toBeCloseTo(alone, 9);
    // The rate fitted to the tastings is pulled a little towards the guess, which here is the truth.
    expect(parts[factor]).toBeCloseTo(alone, 1);
    expect(unexplainedDays).toBeCloseTo(0, 1);
    for (const other of cureFactors.filter((name) => name !== factor)) expect(parts[other]).toBe(0);
  });
});

test('two factors that differ are both seen, and shared so that each has its mean effect', () => {
  const cold = { temperatureC: 12, everyDays: 14 };
  const { parts } = share(inventCure(cold), inventCure());
  const days = (over: Partial<InventedCure>): number => modelDaysOf({ ...plainCure, ...over });
  const base = days({});
  const temperature = ((days({ temperatureC: 12 }) - base) + (days(cold) - days({ everyDays: 14 }))) / 2;
  const changes = ((days({ everyDays: 14 }) - base) + (days(cold) - days({ temperatureC: 12 }))) / 2;
  expect(parts.temperature).toBeCloseTo(temperature, 1);
  expect(parts.changes).toBeCloseTo(changes, 1);
  expect(parts.cut).toBe(0);
  // Taking only one order would give one of them what belongs to both.
  expect(Math.abs(days({ temperatureC: 12 }) - base - temperature)).toBeGreaterThan(0.3);
});

test('the same two cures the other way round: every sign turns', () => {
  const [one, other] = [inventCure({ temperatureC: 13, cut: 'cracked', everyDays: 3 }), inventCure({ brineL: 20 })];
  const [there, back] = [share(one, other), share(other, one)];
  for (const factor of cureFactors) expect(back.parts[factor]).toBeCloseTo(-there.parts[factor], 9);
  expect(back.unexplainedDays).toBeCloseTo(-there.unexplainedDays, 9);
});

test('a cure against itself differs in nothing', () => {
  const same = inventCure();
  expect(share(same, same)).toMatchObject({ differenceDays: 0, unexplainedDays: 0, parts: { temperature: 0, changes: 0, cut: 0, maturity: 0, ratio: 0 } });
});

describe('what the five factors do not explain', () => {
  test('stays visible however large, and is not spread over the parts', () => {
    const [slow, other] = [inventCure({ temperatureC: 14 }), inventCure()];
    const plain = share(slow, other);
    const later = share({ ...slow, days: slow.days + 30 }, other);
    expect(later.parts).toEqual(plain.parts);
    expect(later.unexplainedDays - plain.unexplainedDays).toBeCloseTo(30, 9);
  });

  test('holds a lot that leaches slower of itself: one rate for both cures does not explain that away', () => {
    const [slow, other] = [inventCure({ rate: 0.6 }), inventCure()];
    const { parts, unexplainedDays, differenceDays, rateFactor } = share(slow, other);
    expect(sum(parts)).toBe(0);
    expect(unexplainedDays).toBe(differenceDays);
    expect(differenceDays).toBeGreaterThan(10);
    expect(rateFactor).toBeGreaterThan(0.6);
    expect(rateFactor).toBeLessThan(1);
  });
});

test('the rate is this grower’s: a pair that leaches faster than the guess has smaller parts', () => {
  const at = (rate: number): DaysAttribution => share(inventCure({ rate, temperatureC: 12 }), inventCure({ rate }));
  expect(at(1.6).rateFactor).toBeCloseTo(1.6, 1);
  expect(at(1.6).priorShare).toBeLessThan(0.1);
  expect(at(1.6).parts.temperature).toBeLessThan(0.8 * at(1).parts.temperature);
  expect(share({ ...inventCure(), tastings: [] }, { ...inventCure(), tastings: [] })).toMatchObject({ rateFactor: 1, priorShare: 1 });
});

test('changes go on at their own pace where a mixture takes longer than the cure they came from', () => {
  // Changed every four days in a cure of half the length: cold, it would have been changed every four days to its end.
  const [slow, quick] = [inventCure({ temperatureC: 8, everyDays: 4 }), inventCure({ temperatureC: 24, everyDays: 4 })];
  expect(quick.changes.length).toBeLessThan(slow.changes.length);
  expect(share(slow, quick).parts.changes).toBe(0);
  expect(share(slow, { ...quick, changesEveryDays: null }).parts.changes).not.toBe(0);
});

describe('what cannot be shared out is refused with the reason', () => {
  const cure = inventCure();
  test.each<[string, AttributedCure, string]>([
    ['no temperatures', { ...cure, temperatures: [] }, 'no-temperatures'],
    ['a temperature no brine has', { ...cure, temperatures: [{ t: 0, temperatureC: 85 }] }, 'outside-valid-range'],
    ['no brine', { ...cure, batch: { ...cure.batch, brineL: 0 } }, 'outside-valid-range'],
    ['a mixture that never gets there', { ...cure, batch: { ...cure.batch, brineL: 5 }, temperatures: [{ t: 0, temperatureC: 0 }], changes: [], changesEveryDays: null }, 'never-reached'],
  ])('%s', (_name, one, code) => {
    expect(attributeDays(one, cure, 1)).toMatchObject({ ok: false, error: { code } });
    expect(attributeDays(cure, one, 1)).toMatchObject({ ok: false, error: { code } });
  });
});
