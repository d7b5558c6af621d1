import { describe, expect, test } from 'vitest';
import type { Forecast, Readiness } from '#domain/cure/forecast.ts';
import { openChangeOf } from '#domain/cure/open-change.ts';
import { plannedChangesOf } from '#domain/cure/planned-changes.ts';
import { usualWhatIfs, whatIf, whatIfChanges, type WhatIf, type WhatIfInput } from '#domain/cure/what-if.ts';
import { dayMs, hourMs, toRfc3339 } from '#domain/units/time.ts';
import type { EntryBodies } from '#domain/journal/entry.ts';
import { createShedBook, openDrum } from '../../helpers/shed-book.ts';

const start = Date.parse('2026-09-07T06:30:00Z');

/** Slit green fruit at 18 °C, changed as scheduled, looked at on day 10: the fourth change is due on day 13. */
const cure = (batch: Partial<EntryBodies['batch-opened']> = {}, changeDays: readonly number[] = [2, 4, 6]): WhatIfInput => {
  const book = createShedBook();
  const lot = openDrum(book, start, { style: 'changed-brine', fruitKg: 30, brineL: 24, ...batch });
  for (const day of changeDays) book.write('brine-changed', { lot, at: toRfc3339(start + day * dayMs), brineL: 24, saltGPerL: batch.saltGPerL ?? 100 }, start + day * dayMs);
  const told = book.shed.batches.get(lot);
  if (told === undefined) throw new Error('no batch');
  const now = start + 10 * dayMs;
  return {
    batch: told,
    temperatures: Array.from({ length: 241 }, (_, hour) => ({ t: start + hour * hourMs, temperatureC: 18 })),
    changes: changeDays.map((day) => ({ at: start + day * dayMs, fraction: 1 })),
    plannedChanges: plannedChangesOf(book.shed, told, now, 'UTC'),
    tastings: [],
    now,
    open: openChangeOf(book.shed, told, now, 'UTC'),
  };
};
const later = (asked: Partial<WhatIf>, input = cure()): number => whatIf(input, { warmerC: 0, changes: 'as-planned', ...asked }).laterDays ?? Number.NaN;
const known = (forecast: Forecast): Readiness => {
  if ('unknown' in forecast) throw new Error(forecast.unknown);
  return forecast;
};

describe('what if', () => {
  test('nothing is otherwise: nothing moves', () => {
    expect(whatIf(cure(), { warmerC: 0, changes: 'as-planned' })).toMatchObject({ laterDays: 0, title: 'As planned', caution: null });
  });

  test('warmer is sooner and cooler later, each a whole range', () => {
    expect(later({ warmerC: 2 })).toBeLessThan(-1);
    expect(later({ warmerC: 2 })).toBeGreaterThan(-6);
    expect(later({ warmerC: -2 })).toBeGreaterThan(1);
    const { readyFrom, readyLikely, readyTo, futureTemperatureC } = known(whatIf(cure(), { warmerC: 2, changes: 'as-planned' }).forecast);
    expect(readyFrom).toBeLessThan(readyLikely);
    expect(readyLikely).toBeLessThan(readyTo);
    expect(futureTemperatureC).toBeCloseTo(20, 10);
  });

  test('less changing is later, in order; more is sooner', () => {
    const half = later({ changes: 'half-next' });
    const skipped = later({ changes: 'skip-next' });
    expect(half).toBeGreaterThan(0);
    expect(skipped).toBeGreaterThan(half);
    expect(later({ changes: 'fortnightly' })).toBeGreaterThan(skipped);
    expect(later({ changes: 'extra-today' })).toBeLessThan(0);
    expect(later({ changes: 'every-second-day' })).toBeLessThan(later({ changes: 'extra-today' }));
    expect(Math.abs(later({ changes: 'weekly' }))).toBeLessThan(0.01);
  });

  test('two things at once add up, near enough, and stand in one title', () => {
    const both = whatIf(cure(), { warmerC: 2, changes: 'skip-next' });
    expect(both.title).toBe('2 °C warmer, next change left out');
    expect(both.laterDays ?? 0).toBeGreaterThan(later({ warmerC: 2 }));
    expect(both.laterDays ?? 0).toBeLessThan(later({ changes: 'skip-next' }));
  });

  test('a stronger brine moves nothing, and says why', () => {
    const { laterDays, caution } = whatIf(cure(), { warmerC: 0, changes: 'stronger-brine' });
    expect(laterDays).toBe(0);
    expect(caution).toMatch(/not known/);
  });

  test('says what must be known beside the date: warm fruit, and water that stands', () => {
    const water = cure({ style: 'water-then-brine', saltGPerL: 0 }, [1, 2, 3, 4, 5, 6, 7, 8, 9]);
    expect(whatIf(cure(), { warmerC: 2, changes: 'as-planned' }).caution).toMatch(/softens/);
    expect(whatIf(water, { warmerC: 0, changes: 'skip-next' }).caution).toMatch(/hygiene/);
    expect(whatIf(cure(), { warmerC: 0, changes: 'skip-next' }).caution).toBeNull();
  });

  test('asks about changes only where something is changed', () => {
    expect(usualWhatIfs(cure().open).map(({ changes }) => changes)).toEqual(['as-planned', 'as-planned', 'skip-next', 'half-next', 'every-second-day', 'stronger-brine']);
    const kept = cure({ style: 'kept-brine' }, []);
    expect(usualWhatIfs(kept.open).map(({ warmerC }) => warmerC)).toEqual([2, -2]);
    for (const changes of whatIfChanges) expect(later({ changes }, kept)).toBe(0);
  });

  test('is unknown where the forecast is', () => {
    const { laterDays, forecast } = whatIf({ ...cure(), temperatures: [] }, { warmerC: 2, changes: 'as-planned' });
    expect(laterDays).toBeNull();
    expect('unknown' in forecast && forecast.unknown).toMatch(/temperature/);
  });
});
