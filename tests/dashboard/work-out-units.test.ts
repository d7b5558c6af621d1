import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { metric, type UnitChoice } from '../../dashboard/format/units.ts';
import { plannedChanges, firstAbove } from '../../dashboard/state/work-out/cure-plan.ts';
import { amount, cupsInWords, exact, measureOf, nextCup, plain, shownStep, smallVolume, typedCups, volumeWords } from '../../dashboard/state/work-out/measure.ts';
import { ticks } from '../../dashboard/state/work-out/picture.ts';
import { merged } from '../../dashboard/state/work-out/words.ts';

const imperial: UnitChoice = { temperature: 'F', mass: 'oz', volume: 'gal' };

describe('measures of the questions', () => {
  it('convert by definition', () => {
    // NIST SP 811, appendix B.8: 1 US fluid ounce = 29.57353 mL, 1 lb = 0.45359237 kg, 1 US gallon = 3.785411784 L.
    expect(measureOf('millilitres', imperial).toMetric(1)).toBeCloseTo(29.57353, 5);
    expect(measureOf('kilograms', imperial).toMetric(1)).toBe(0.45359237);
    expect(measureOf('litres', imperial).toMetric(1)).toBe(3.785411784);
    expect(measureOf('temperature', imperial).toShown(25)).toBe(77);
    // A step of temperature is scaled and not shifted: shifting would make 5.25 °C 41.45 °F.
    expect(measureOf('temperature-step', imperial).toShown(5.25)).toBeCloseTo(9.45, 10);
    expect(measureOf('share', metric).toShown(0.17)).toBeCloseTo(17, 12);
  });

  it('come back from what is shown', () => {
    fc.assert(
      fc.property(fc.constantFrom('temperature' as const, 'temperature-step' as const, 'kilograms' as const, 'litres' as const, 'millilitres' as const, 'share' as const), fc.double({ min: -1e4, max: 1e4, noNaN: true }), (quantity, value) => {
        for (const units of [metric, imperial]) {
          const { toShown, toMetric } = measureOf(quantity, units);
          expect(toMetric(toShown(value))).toBeCloseTo(value, 8);
        }
      }),
    );
  });

  it('are counted in steps that are easy to count in', () => {
    expect(shownStep(1, measureOf('litres', metric))).toBe(1);
    expect(shownStep(0.01, measureOf('share', metric))).toBeCloseTo(1, 10);
    expect(shownStep(1, measureOf('litres', imperial))).toBe(0.25);
    expect(shownStep(1, measureOf('temperature', imperial))).toBe(1);
  });

  it('are written as a scale or a jug tells them', () => {
    expect(volumeWords(9.6475, metric)).toBe('9.65\u00a0L');
    expect(volumeWords(20.56, metric)).toBe('20.6\u00a0L');
    expect(smallVolume(600, metric)).toEqual({ text: '600', unit: 'mL' });
    expect(smallVolume(1_600, metric)).toEqual({ text: '1.6', unit: 'L' });
    expect(smallVolume(600, imperial)).toEqual({ text: '20.3', unit: 'fl oz' });
    expect(amount(25, 'temperature', imperial)).toBe('77\u00a0°F');
    expect(exact(4.1, 2)).toBe('4.10');
    expect(plain(-0.004, 2)).toBe('0');
    expect(plain(1_000, 0)).toBe('1000');
    expect(plain(-12.5, 1)).toBe('−12.5');
  });
});

describe('cups', () => {
  it('are counted in the parts that measuring cups have', () => {
    const up: string[] = [];
    for (let cups = 0; cups < 1.4; cups = nextCup(cups, true)) up.push(cupsInWords(cups));
    expect(up).toEqual(['0', '1/4', '1/3', '1/2', '2/3', '3/4', '1', '1 1/4', '1 1/3']);
    expect(cupsInWords(nextCup(1 / 3, false))).toBe('1/4');
    expect(nextCup(0, false)).toBe(0);
    expect(cupsInWords(0.4)).toBe('0.4');
  });

  it('are read as people write them', () => {
    expect(typedCups('1 1/2')).toBe(1.5);
    expect(typedCups('1/3')).toBeCloseTo(1 / 3, 12);
    expect(typedCups('0,5')).toBe(0.5);
    for (const text of ['', '1/0', 'a third', '1/']) expect(typedCups(text)).toBeNull();
  });

  it('read back what they say', () => {
    fc.assert(fc.property(fc.integer({ min: 0, max: 30 }), fc.constantFrom(0, 1 / 4, 1 / 3, 1 / 2, 2 / 3, 3 / 4), (whole, part) => {
      expect(typedCups(cupsInWords(whole + part))).toBeCloseTo(whole + part, 10);
    }));
  });
});

describe('the plan of a cure', () => {
  it('is three changes in the first week and then one a week', () => {
    // The common practice "every second day in the first week, weekly after" (common practice, no source).
    expect(plannedChanges(2, 7, 30)).toEqual([2, 4, 6, 13, 20, 27]);
    expect(plannedChanges(1, 7, 20)).toEqual([1, 2, 3, 4, 5, 6, 13, 20]);
    expect(plannedChanges(0, 7, 20)).toEqual([7, 14]);
    expect(plannedChanges(0, 0, 365)).toEqual([]);
  });

  it('never holds more changes than the calculator takes, however close they are', () => {
    expect(plannedChanges(0.001, 0.001, 365).length).toBe(500);
  });

  it('tells when a level is first passed, between the points of the curve', () => {
    const curve = [{ hours: 0, temperatureC: 20 }, { hours: 2, temperatureC: 24 }, { hours: 4, temperatureC: 26 }];
    expect(firstAbove(curve, 25)).toBe(3);
    expect(firstAbove(curve, 19)).toBe(0);
    expect(firstAbove(curve, 30)).toBeNull();
    // Down again is still passed.
    expect(firstAbove([...curve, { hours: 6, temperatureC: 22 }], 25)).toBe(3);
  });
});

describe('what stands beside an answer', () => {
  it('says no sentence twice, and keeps the end of the last', () => {
    const { cautions, sources } = merged([
      { source: 'a', caution: 'The first. A guide only.' },
      { source: 'a', caution: 'The second. A guide only.' },
      { source: 'b' },
    ]);
    expect(cautions).toEqual(['The first.', 'The second. A guide only.']);
    expect(sources).toEqual(['a', 'b']);
  });

  it('marks a scale at round numbers inside it', () => {
    expect(ticks(0, 47, 5).map(({ label }) => label)).toEqual(['0', '10', '20', '30', '40']);
    expect(ticks(0.3, 1.1, 4).map(({ label }) => label)).toEqual(['0.4', '0.6', '0.8', '1.0']);
    expect(ticks(-5, 5, 2).map(({ label }) => label)).toEqual(['−5', '0', '5']);
  });
});
