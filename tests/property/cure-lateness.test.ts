import fc from 'fast-check';
import { expect, it } from 'vitest';
import { cuts, maturities } from '#domain/cure/batch.ts';
import { costOfLateness, type LatenessInput } from '#domain/cure/cost-of-lateness.ts';
import { dayMs } from '#domain/units/time.ts';

/** Laws of the model: clean brine never makes the flesh more bitter, whatever the fruit, the temperature and the tastings. */
const cure = fc
  .record({
    cut: fc.constantFrom(...cuts), maturity: fc.constantFrom(...maturities), temperatureC: fc.double({ min: 5, max: 30, noNaN: true }), ratioL: fc.double({ min: 5, max: 15, noNaN: true }),
    today: fc.double({ min: 1, max: 60, noNaN: true }), dueIn: fc.double({ min: -10, max: 10, noNaN: true }), everyDays: fc.integer({ min: 1, max: 14 }),
    tastings: fc.array(fc.record({ share: fc.double({ min: 0, max: 1, noNaN: true }), bitterness: fc.integer({ min: 0, max: 10 }) }), { maxLength: 4 }),
  })
  .map(({ cut, maturity, temperatureC, ratioL, today, dueIn, everyDays, tastings }): LatenessInput => {
    const now = today * dayMs;
    return {
      batch: { cut, maturity, startedAt: 0, fruitKg: 10, brineL: ratioL },
      temperatures: [{ t: 0, temperatureC }],
      changes: [],
      tastings: tastings.map(({ share, bitterness }) => ({ at: share * now, bitterness })),
      now,
      open: { step: { id: 'x', kind: 'change-brine', ordinal: 1, dueAt: Math.max(0, now + dueIn * dayMs) }, medium: 'brine', steps: { afterDays: [], thenEveryDays: [everyDays], source: 'test' } },
      brine: { brineL: 27, saltGPerL: 80 },
    };
  });
/** Finishes are found to the minute. */
const minute = 2 / 1_440;

it('one more change today is never later, half a change never sooner than a whole one, a left-out one that is not overdue never sooner', () => {
  fc.assert(
    fc.property(cure, (input) => {
      const cost = costOfLateness(input);
      if ('unknown' in cost) throw new Error(cost.unknown);
      const later = Object.fromEntries(cost.outcomes.map(({ choice, laterDays }) => [choice, laterDays]));
      if (later['extra'] != null) expect(later['extra']).toBeLessThanOrEqual(minute);
      if (later['half'] != null) expect(later['half']).toBeGreaterThanOrEqual(-minute);
      if (later['left-out'] != null && input.open.step.dueAt >= input.now) expect(later['left-out']).toBeGreaterThanOrEqual(-minute);
      expect(later['on-time'] ?? 0).toBe(0);
      for (const { lowDays, laterDays, highDays } of cost.outcomes) if (lowDays !== null && highDays !== null) expect(lowDays <= (laterDays ?? Number.NaN) && (laterDays ?? Number.NaN) <= highDays).toBe(true);
    }),
    { seed: 11, numRuns: 150 },
  );
});
