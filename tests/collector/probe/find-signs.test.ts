import { describe, expect, it } from 'vitest';
import { findProbeSigns, type ChannelTrace } from '#domain/probe/find-signs.ts';
import { calibrationSigns, electrodeOf } from '#domain/probe/calibration-signs.ts';
import { probeSignKinds, probeSignWords } from '#domain/probe/sign.ts';
import type { Channel } from '#domain/reading/channel.ts';
import type { Quality, Reading } from '#domain/reading/reading.ts';
import type { Point } from '#domain/reading/store.ts';
import { dayMs, hourMs, minuteMs, toRfc3339 } from '#domain/units/time.ts';

/**
 * Invented traces. The figures they are judged by: a drum answers a daily swing of its air with a gain of 0.2 to 0.6 and a lag of hours
 * (first-order response, textbook); DS18B20 data sheet for 85 °C and ± 0.5 °C; the rest are assumptions named in the code.
 */
const now = Date.UTC(2026, 9, 3, 12);
const stepMs = 10 * minuteMs;
const points = (value: (hour: number) => number): Point[] =>
  Array.from({ length: 144 }, (_, index) => {
    const t = now - dayMs + index * stepMs;
    const mean = value(((t - now) / hourMs) + 24);
    return { t, mean, min: mean, max: mean, count: 1 };
  });
const air = points((hour) => 18 + 6 * Math.sin((2 * Math.PI * hour) / 24));
const drum = points((hour) => 17 + 1.8 * Math.sin((2 * Math.PI * (hour - 4.5)) / 24));

const readings = (channel: Channel, values: readonly number[], everyMs = 5 * minuteMs): Reading[] =>
  values.map((value, index) => ({ series: `p/${channel}`, at: now - (values.length - 1 - index) * everyMs, value, quality: 'good' }));

const trace = (over: Partial<ChannelTrace> & { readonly channel?: Channel } = {}): ChannelTrace => {
  const channel = over.channel ?? 'temperature';
  const day = over.day ?? drum;
  return { channel, last: { series: `p/${channel}`, at: now, value: day.at(-1)?.mean ?? 17, quality: 'good' }, isSilent: false, recent: [], day, beside: [], air, ...over };
};
const kinds = (over: Parameters<typeof trace>[0], allSilent = false): string[] => findProbeSigns(trace(over), allSilent, now).map(({ kind }) => kind);

describe('what the readings of a probe say about it', () => {
  it('is nothing where it is a drum like others', () => {
    expect(kinds({ beside: points((hour) => 17.6 + 1.8 * Math.sin((2 * Math.PI * (hour - 4.5)) / 24)), recent: readings('temperature', [17, 17.1, 17, 17.2]) })).toEqual([]);
  });

  it('tells one silence from that of all, and says nothing else of a probe that is silent', () => {
    expect(kinds({ isSilent: true, day: air })).toEqual(['silent']);
    expect(kinds({ isSilent: true }, true)).toEqual(['all-silent']);
  });

  it.each(['power-on', 'disconnected', 'blank-scratchpad', 'out-of-range'] as const)('names the fault: %s', (quality: Quality) => {
    expect(kinds({ last: { series: 'p/temperature', at: now, value: 85, quality } })).toEqual([quality]);
  });

  it('is stuck after six hours without a step while the air swings, not while the air stands still', () => {
    const still = points((hour) => (hour < 12 ? 16 : 17.25));
    expect(findProbeSigns(trace({ day: still }), false, now)).toMatchObject([{ kind: 'stuck', value: expect.closeTo(12, 0) as number }]);
    expect(kinds({ day: still, air: points(() => 18) })).toEqual([]);
    expect(kinds({ day: still, air: [] })).toEqual([]);
    expect(kinds({ day: points((hour) => (hour < 20 ? 16 : 17.25)) })).toEqual([]);
    // One step of the sensor is not a movement.
    expect(kinds({ day: points((hour) => (Math.floor(hour * 6) % 2 === 0 ? 17.25 : 17.3125)) })).toEqual(['stuck']);
  });

  it('follows the air where no brine could', () => {
    expect(kinds({ day: points((hour) => 18 + 5.5 * Math.sin((2 * Math.PI * (hour - 0.3)) / 24)) })).toEqual(['follows-air']);
  });

  it('jumps both ways, where one step could be fresh brine', () => {
    expect(kinds({ recent: readings('temperature', [17, 19, 17, 19, 17]) })).toEqual(['jumps']);
    expect(kinds({ recent: readings('temperature', [17, 17, 12, 12.1, 12.4]) })).toEqual([]);
    // Half an hour apart, brine may have been changed twice.
    expect(kinds({ recent: readings('temperature', [17, 19, 17, 19, 17], 30 * minuteMs) })).toEqual([]);
  });

  it('is apart from the other one of its drum by more than both may be off', () => {
    const other = (offset: number): Point[] => drum.map((point) => ({ ...point, mean: point.mean + offset }));
    expect(findProbeSigns(trace({ beside: other(-1.4) }), false, now)).toMatchObject([{ kind: 'apart', value: expect.closeTo(1.4, 6) as number }]);
    expect(kinds({ beside: other(0.9) })).toEqual([]);
    // What is only an hour old says nothing yet.
    expect(kinds({ beside: other(-3).slice(-4) })).toEqual([]);
  });

  it.each([
    ['battery', 2.6, ['battery-low']],
    ['battery', 2.9, []],
    ['battery', 1.4, []],
    ['battery', 12.1, []],
    ['battery-ratio', 0.15, ['battery-low']],
    ['battery-ratio', 0.6, []],
    ['signal', -95, ['signal-weak']],
    ['signal', -70, []],
  ] as const)('%s at %d: %j', (channel, value, expected) => {
    expect(kinds({ channel, day: [], last: { series: `p/${channel}`, at: now, value, quality: 'good' } })).toEqual(expected);
  });

  it('says seven all day, as no brine of olives does', () => {
    expect(kinds({ channel: 'ph', day: points((hour) => 7 + 0.02 * Math.sin(hour)) })).toEqual(['ph-seven']);
    expect(kinds({ channel: 'ph', day: points(() => 4.3) })).toEqual([]);
    expect(kinds({ channel: 'ph', day: points((hour) => 7.4 - hour * 0.05) })).toEqual([]);
  });

  it('is dry where it conducted and does no more', () => {
    const last = { series: 'p/conductivity', at: now, value: 0.01, quality: 'good' } as const;
    expect(kinds({ channel: 'conductivity', day: points((hour) => (hour < 23 ? 9 : 0.01)), last })).toEqual(['dry']);
    expect(kinds({ channel: 'conductivity', day: points(() => 0.01), last })).toEqual([]);
  });
});

describe('what its calibrations say', () => {
  const ph = (daysAgo: number, acidMv: number) => ({ probe: 'p', kind: 'ph', points: [{ ph: 7.01, mv: -15 }, { ph: 4.01, mv: acidMv }], temperatureC: 25, at: toRfc3339(now - daysAgo * dayMs) }) as const;
  const ice = (readingC: number) => ({ probe: 'p', kind: 'ice-point', readingC, referenceC: 0, at: toRfc3339(now) }) as const;
  const found = (measures: readonly Channel[], calibrations: Parameters<typeof calibrationSigns>[1]): string[] => calibrationSigns(measures, calibrations, now).map(({ kind }) => kind);

  it('is that a pH nobody checked is unknown, and a temperature is not', () => {
    expect(found(['ph'], [])).toEqual(['never-calibrated']);
    expect(found(['temperature'], [])).toEqual([]);
  });

  it('is its age: the first for a day, later ones for a week', () => {
    expect(found(['ph'], [ph(0.9, 160)])).toEqual([]);
    expect(found(['ph'], [ph(1.1, 160)])).toEqual(['calibration-old']);
    expect(found(['ph'], [ph(9, 160), ph(6.9, 160)])).toEqual([]);
    expect(found(['ph'], [ph(20, 160), ph(7.1, 160)])).toEqual(['calibration-old']);
  });

  // The example of the published electrode check: -15 mV at 7.01, +160 mV at 4.01, 25 °C give 98.6 %.
  it('is its slope', () => {
    expect(electrodeOf([ph(0, 160)], now)).toMatchObject({ slopePercent: expect.closeTo(98.6, 1) as number, verdict: 'good' });
    expect(found(['ph'], [ph(0, 147)])).toEqual(['electrode-check']);
    expect(found(['ph'], [ph(0, 120)])).toEqual(['electrode-replace']);
  });

  it('is how far it is off in ice', () => {
    expect([found([], [ice(0.4)]), found([], [ice(-0.7)]), found([], [ice(1.2)]), found([], [ice(1.2), ice(0.1)])]).toEqual([[], ['ice-point-off'], ['ice-point-reject'], []]);
  });
});

it('every sign has its words, and says what to do', () => {
  for (const kind of probeSignKinds) {
    const { title, hint } = probeSignWords[kind];
    expect(title(2.4)).toMatch(/^\S.{3,70}$/);
    expect(hint).toMatch(/^[A-Z].{20,}\.$/);
  }
});
