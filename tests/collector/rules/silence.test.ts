import { describe, expect, it } from 'vitest';
import { isFault, noFault, stepFault } from '#domain/rules/fault.ts';
import { allowedSilenceMs, isStale, silentAt, usualIntervalMs } from '#domain/rules/silence.ts';
import { hourMs, minuteMs, secondMs } from '#domain/units/time.ts';

const every = (ms: number, count: number): number[] => Array.from({ length: count }, (_none, index) => index * ms);

describe('usual interval', () => {
  it('is the median of the last gaps, so that a lost reading or a burst does not count', () => {
    expect(usualIntervalMs(null, [0, 10, 20, 30, 90, 100, 110])).toBe(10);
    expect(usualIntervalMs(null, [0, 60, 120, 121, 122, 180, 240, 300])).toBe(60);
  });

  it('looks only at the last eight gaps: a probe that has slowed down is believed', () => {
    const slowed = [...every(10, 50), ...every(100, 9).map((at) => 490 + at)];
    expect(usualIntervalMs(null, slowed)).toBe(100);
  });

  it('is what the probe announces, whatever it does', () => {
    expect(usualIntervalMs(600_000, every(10, 20))).toBe(600_000);
  });

  it('is unknown after one reading', () => {
    expect(usualIntervalMs(null, [5])).toBeNull();
    expect(usualIntervalMs(null, [])).toBeNull();
  });
});

describe('silence', () => {
  it('allows three intervals and never less than ten minutes', () => {
    expect(allowedSilenceMs(10 * secondMs)).toBe(10 * minuteMs);
    expect(allowedSilenceMs(hourMs)).toBe(3 * hourMs);
    expect(allowedSilenceMs(null)).toBe(10 * minuteMs);
  });

  it('makes a value stale just past what is allowed', () => {
    expect(isStale(0, 10 * secondMs, 10 * minuteMs)).toBe(false);
    expect(isStale(0, 10 * secondMs, 10 * minuteMs + 1)).toBe(true);
    expect(isStale(0, hourMs, 3 * hourMs)).toBe(false);
  });

  it('is patient with a probe whose pace is not known', () => {
    expect(silentAt(0, null, 0)).toBe(2 * hourMs);
    expect(silentAt(0, 10 * secondMs, 0)).toBe(10 * minuteMs);
  });

  it('gives a probe two of its intervals (a minute at least) once somebody listens again', () => {
    const listening = 5 * hourMs;
    expect(silentAt(0, 10 * secondMs, listening)).toBe(listening + minuteMs);
    expect(silentAt(0, hourMs, listening)).toBe(listening + 2 * hourMs);
    expect(silentAt(4.95 * hourMs, 10 * secondMs, listening)).toBe(4.95 * hourMs + 10 * minuteMs);
  });
});

describe('fault', () => {
  it('is more than one bad reading in a row, counted from the first', () => {
    const one = stepFault(noFault, 'disconnected', 5);
    expect(isFault(one, 1)).toBe(false);
    const two = stepFault(one, 'power-on', 9);
    expect(isFault(two, 1)).toBe(true);
    expect(two).toEqual({ inARow: 2, since: 5, quality: 'power-on' });
  });

  it('ends with a good reading, and one between two bad ones keeps them apart', () => {
    const between = stepFault(stepFault(noFault, 'disconnected', 1), 'good', 2);
    expect(isFault(stepFault(between, 'disconnected', 3), 1)).toBe(false);
  });
});
