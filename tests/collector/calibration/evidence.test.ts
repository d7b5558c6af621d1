import { describe, expect, it } from 'vitest';
import { phUncertaintyAt } from '#domain/acid/ph-uncertainty-at.ts';
import { checkSettingsWith } from '#domain/calibration/check-settings.ts';
import { doubtsOf, type KeptCheck } from '#domain/calibration/doubt.ts';
import { evidenceOf, type InstrumentBook, type Measurement } from '#domain/calibration/evidence.ts';
import { failedCheck, foundWrong } from '#domain/calibration/failed-check.ts';
import { dayMs, hourMs, toRfc3339 } from '#domain/units/time.ts';

const start = Date.UTC(2026, 9, 5, 8);
const at = (days: number): string => toRfc3339(start + days * dayMs);
/** 59.16 mV/pH at 25 °C is the Nernst slope (R·T·ln 10 / F): the millivolts of an electrode at a share of it, in buffers 4.01 and 7.00. */
const points = (percent: number, offset = 0) => [{ ph: 4.01, mv: offset + (2.99 * 59.16 * percent) / 100 }, { ph: 7, mv: offset }];
const calibration = (days: number, percent = 98, over: Partial<Extract<KeptCheck, { kind: 'ph' }>> = {}): KeptCheck => ({ probe: 'meter-1', kind: 'ph', at: at(days), points: points(percent), temperatureC: 25, sequence: 100 + Math.round(days * 10), ...over });
const ice = (days: number, readingC: number): KeptCheck => ({ probe: 'thermo', kind: 'ice-point', at: at(days), readingC, referenceC: 0, sequence: 200 + days });

describe('a check fails', () => {
  // 92 to 102 %: laboratory practice, from memory. A wrong rule that took 85 to 105 % (a published electrode check) would pass 91 %.
  it.each([[91.9, true], [92.1, false], [98, false], [101.9, false], [102.1, true]])('at a slope of %d %%: %s', (percent, fails) => {
    expect(failedCheck(calibration(0, percent)) !== null).toBe(fails);
  });
  it('at an offset beyond 30 mV (published electrode check), though the slope is good', () => {
    expect(failedCheck(calibration(0, 98, { points: points(98, 29) }))).toBeNull();
    expect(failedCheck(calibration(0, 98, { points: points(98, 31) }))).toBe('offset +31 mV');
  });
  // ± 0.05 pH: laboratory practice, from memory.
  it.each([[4.06, false], [3.96, false], [4.07, true], [3.95, true]])('where a buffer of 4.01 reads %d: %s', (reads, fails) => {
    expect(failedCheck({ probe: 'm', kind: 'buffer-check', at: at(0), ph: 4.01, reads }) !== null).toBe(fails);
  });
  // ± 1 °C: WAC 246-215 and other food rules.
  it.each([[1, false], [-1, false], [1.1, true], [-1.1, true]])('where ice reads %d °C: %s', (readingC, fails) => {
    expect(failedCheck(ice(0, readingC)) !== null).toBe(fails);
  });
  it('by the numbers the site has set', () => {
    expect(failedCheck(ice(0, 0.6), checkSettingsWith({ icePointWithinC: 0.5 }))).toBe('off by +0.6 °C in ice');
  });
  it('for what was measured before, where buffers read wrongly before adjusting, though the calibration is good', () => {
    const adjusted = calibration(0, 98, { asFound: [{ ph: 7, reads: 7.02 }, { ph: 4.01, reads: 4.2 }] });
    expect(failedCheck(adjusted)).toBeNull();
    expect(foundWrong(adjusted)).toBe('buffer 4.01 read 4.20 before adjusting');
  });
});

const book = (checks: readonly KeptCheck[], over: Partial<InstrumentBook> = {}): InstrumentBook => ({ calibrations: new Map([['meter-1', checks], ['thermo', checks]]), zone: 'UTC', now: start + 30 * dayMs, ...over });
const reading = (days: number, over: Partial<Measurement> = {}): Measurement => ({ quantity: 'ph', instrument: 'meter-1', by: 'hand', lot: 'A1', at: start + days * dayMs, ...over });
const reasonOf = (measurement: Measurement, given: InstrumentBook): string => {
  const evidence = evidenceOf(measurement, given);
  return evidence.usable ? 'usable' : evidence.reason;
};

describe('what may stand as evidence', () => {
  it('a pH by hand on the day of a calibration, not before it and not the day after', () => {
    const given = book([calibration(0)]);
    expect(reasonOf(reading(0.1), given)).toBe('usable');
    expect(reasonOf(reading(-0.1), given)).toBe('not-calibrated');
    expect(reasonOf(reading(1), given)).toBe('not-calibrated');
  });
  it('the day is that of the site: 21:30 UTC is the next one in Athens, three hours ahead', () => {
    const given = book([calibration(0)], { zone: 'Europe/Athens' });
    expect(reasonOf(reading(12.5 / 24), given)).toBe('usable');
    expect(reasonOf(reading(13.5 / 24), given)).toBe('not-calibrated');
  });
  it('a pH probe for a week', () => {
    const given = book([calibration(0)]);
    expect(reasonOf(reading(7, { by: 'probe' }), given)).toBe('usable');
    expect(reasonOf(reading(7.1, { by: 'probe' }), given)).toBe('too-old');
  });
  it('a thermometer for a month after its ice point', () => {
    const given = book([ice(0, 0.3)]);
    const temperature = { quantity: 'temperature', instrument: 'thermo' } as const;
    expect(reasonOf(reading(31, temperature), given)).toBe('usable');
    expect(reasonOf(reading(31.1, temperature), given)).toBe('too-old');
  });
  it('nothing without an instrument, no strip, and nothing after a failed check, on the same day or with a buffer only', () => {
    expect(reasonOf(reading(0.1, { instrument: null }), book([calibration(0)]))).toBe('no-instrument');
    expect(reasonOf(reading(0.1, { instrument: 'pH strip' }), book([calibration(0)]))).toBe('strip');
    expect(reasonOf(reading(0.2), book([calibration(0), calibration(0.1, 80)]))).toBe('failed-check');
    expect(reasonOf(reading(0.1), book([{ probe: 'meter-1', kind: 'buffer-check', at: at(0), ph: 4.01, reads: 4.01 }]))).toBe('not-calibrated');
  });
  it('what was measured since the last good check is in doubt once one fails, until a person decides for that lot', () => {
    const failing: KeptCheck = { probe: 'meter-1', kind: 'buffer-check', at: at(0.3), ph: 4.01, reads: 4.2, sequence: 9 };
    const checks = [calibration(0), failing];
    expect(reasonOf(reading(0.1), book(checks))).toBe('in-doubt');
    // Before it failed nobody could know.
    expect(reasonOf(reading(0.1), book(checks, { now: start + 0.2 * dayMs }))).toBe('usable');
    const decided = (lot: string, decision: 'stands' | 'discarded') => [{ instrument: 'meter-1', check: 9, lot, decision, reason: 'r' }];
    expect(reasonOf(reading(0.1), book(checks, { decisions: decided('A1', 'stands') }))).toBe('usable');
    expect(reasonOf(reading(0.1), book(checks, { decisions: decided('A1', 'discarded') }))).toBe('discarded');
    expect(reasonOf(reading(0.1), book(checks, { decisions: decided('B2', 'stands') }))).toBe('in-doubt');
  });
  it('doubt reaches back to the last good check and no further', () => {
    const checks = [calibration(0), calibration(2), calibration(5, 80)];
    expect(doubtsOf(checks, start + 9 * dayMs)).toMatchObject([{ from: start + 2 * dayMs, to: start + 5 * dayMs, why: 'slope 80.0 %' }]);
    expect(reasonOf(reading(0.1), book(checks))).toBe('usable');
    expect(reasonOf(reading(2.1), book(checks))).toBe('in-doubt');
  });
});

describe('uncertainty of a pH', () => {
  const good = { madeAt: start, points: points(98), temperatureC: 25 };
  // By JCGM 100:2008, 2·√(Σ a²/3): 100 g/L at 20 °C is 9.35 % w/w, junction 0.10; age 20 days, drift 0.20; 0.02 buffers; 0.005 resolution.
  const byHand = (...halfWidths: readonly number[]): number => Math.ceil(200 * Math.sqrt(halfWidths.reduce((sum, half) => sum + half ** 2 / 3, 0))) / 100;
  it('grows with the age of the calibration', () => {
    expect(phUncertaintyAt({ at: start, saltGPerL: 100, calibration: good })).toBe(0.12);
    expect(phUncertaintyAt({ at: start + 20 * dayMs, saltGPerL: 100, calibration: good })).toBe(byHand(0.1, 0.2, 0.02, 0.005));
  });
  it('grows with salt above 10 %: 150 g/L is 13.6 % w/w, whose junction is 0.136', () => {
    expect(phUncertaintyAt({ at: start + hourMs, saltGPerL: 150, calibration: good })).toBe(byHand(0.1364, 0.01 / 24, 0.02, 0.005));
  });
  it('is never less than the usual one, and is as wide as is known without a calibration', () => {
    expect(phUncertaintyAt({ at: start, saltGPerL: 0, calibration: good })).toBe(0.12);
    expect(phUncertaintyAt({ at: start, saltGPerL: 100, calibration: null })).toBeGreaterThan(0.6);
  });
});
