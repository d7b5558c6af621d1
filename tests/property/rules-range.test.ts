import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Limit } from '#domain/rules/limit.ts';
import { inside, settleRange, stepRange, type RangeCondition, type RangeEvent } from '#domain/rules/range.ts';
import { minuteMs, type EpochMs } from '#domain/units/time.ts';
import { expectedExcursions, type ExpectedExcursion, type Sample } from '../helpers/range-oracle.ts';

const seed = 20_261_125;
const uncertainty = 0.5;

/** Values on a grid of half a degree around the limit, so that every edge (limit, guard band, deadband) is hit often. */
const value = fc.integer({ min: -6, max: 6 }).map((half) => 30 + half / 2);
const samples = fc
  .array(fc.record({ gap: fc.integer({ min: 1, max: 40 }), value }), { minLength: 1, maxLength: 60 })
  .map((steps) => steps.reduce<Sample[]>((all, step) => [...all, { at: (all.at(-1)?.at ?? 0) + step.gap * minuteMs, value: step.value }], []));
const limit = fc
  .record({ side: fc.constantFrom('low', 'high'), deadband: fc.constantFrom(0, 0.5, 1.5), onDelayS: fc.constantFrom(0, 300, 600, 3_600), offDelayS: fc.constantFrom(0, 300, 600, 3_600) })
  .map(({ side, ...rest }): Limit => ({
    id: 'a-limit', kind: 'range', quantity: 'temperature', unit: 'Cel', stage: null, style: null, priority: 'high', source: 'assumption',
    low: side === 'low' ? 30 : null, high: side === 'high' ? 30 : null, ...rest,
  }));
const afterwards = fc.integer({ min: 0, max: 200 });

interface Run {
  readonly events: readonly RangeEvent[];
  readonly condition: RangeCondition;
}

/** Feeds samples, with the clock looking in at some times between, then once at the end. */
const run = (readings: readonly Sample[], of: Limit, horizon: EpochMs, ticks: readonly EpochMs[] = []): Run => {
  let condition: RangeCondition = inside;
  const events: RangeEvent[] = [];
  const moments = [...readings.map((sample) => ({ at: sample.at, sample })), ...ticks.map((at) => ({ at, sample: null }))].sort((one, other) => one.at - other.at || (one.sample === null ? -1 : 1));
  for (const { at, sample } of [...moments, { at: horizon, sample: null }]) {
    const step = sample === null ? settleRange(condition, of, at) : stepRange(condition, of, uncertainty, sample.value, at);
    condition = step.condition;
    events.push(...step.events);
  }
  return { events, condition };
};

const told = (events: readonly RangeEvent[]): ExpectedExcursion[] => {
  const excursions: ExpectedExcursion[] = [];
  for (const event of events) {
    if (event.kind === 'raised') excursions.push({ since: event.since, raisedAt: event.at, peak: event.peak, until: null, returnedAt: null });
    else excursions[excursions.length - 1] = { ...(excursions.at(-1) as ExpectedExcursion), peak: event.peak, until: event.until, returnedAt: event.at };
  }
  return excursions;
};

/** The peak of an excursion that still lasts is known to the condition only. */
const closed = ({ until, peak, ...rest }: ExpectedExcursion) => ({ ...rest, until, peak: until === null ? null : peak });

describe('range rule, against definitions applied to the whole history', () => {
  it('raises what has a cause, loses none, and tells when it began, ended and how bad it was', () => {
    fc.assert(
      fc.property(samples, limit, afterwards, (readings, of, after) => {
        const horizon = (readings.at(-1)?.at ?? 0) + after * minuteMs;
        expect(told(run(readings, of, horizon).events).map(closed)).toEqual(expectedExcursions(readings, of, uncertainty, horizon).map(closed));
      }),
      { seed, numRuns: 2_000 },
    );
  });

  it('meets many cases of each kind in those runs, so that the property above is not empty', () => {
    const counts = { none: 0, one: 0, several: 0, lasting: 0, joined: 0, fleeting: 0 };
    for (const [readings, of, after] of fc.sample(fc.tuple(samples, limit, afterwards), { seed, numRuns: 500 })) {
      const horizon = (readings.at(-1)?.at ?? 0) + after * minuteMs;
      const count = (delays: Partial<Limit>): number => expectedExcursions(readings, { ...of, ...delays }, uncertainty, horizon).length;
      const excursions = expectedExcursions(readings, of, uncertainty, horizon);
      counts[excursions.length === 0 ? 'none' : excursions.length === 1 ? 'one' : 'several'] += 1;
      if (excursions.some(({ until }) => until === null)) counts.lasting += 1;
      if (count({ onDelayS: 0 }) < count({ onDelayS: 0, offDelayS: 0 })) counts.joined += 1;
      if (count({ offDelayS: 0 }) < count({ onDelayS: 0, offDelayS: 0 })) counts.fleeting += 1;
    }
    for (const [kind, count] of Object.entries(counts)) expect(count, kind).toBeGreaterThan(20);
  });

  it('says the same however often and whenever the clock looks in: a replay equals the live run', () => {
    fc.assert(
      fc.property(samples, limit, afterwards, fc.array(fc.integer({ min: 0, max: 2_600 }), { maxLength: 80 }), (readings, of, after, minutes) => {
        const horizon = (readings.at(-1)?.at ?? 0) + after * minuteMs;
        const ticks = minutes.map((minute) => minute * minuteMs).filter((at) => at <= horizon);
        expect(run(readings, of, horizon, ticks).events).toEqual(run(readings, of, horizon).events);
      }),
      { seed, numRuns: 1_000 },
    );
  });

  it('can be cut anywhere: what is kept between two readings is the whole condition', () => {
    fc.assert(
      fc.property(samples, limit, fc.nat(), (readings, of, cut) => {
        const at = cut % (readings.length + 1);
        const horizon = readings.at(-1)?.at ?? 0;
        const whole = run(readings, of, horizon);
        const first = readings.slice(0, at).reduce<Run>(({ condition, events }, { value: v, at: t }) => {
          const step = stepRange(condition, of, uncertainty, v, t);
          return { condition: step.condition, events: [...events, ...step.events] };
        }, { condition: inside, events: [] });
        const kept = JSON.parse(JSON.stringify(first.condition)) as RangeCondition;
        const rest = readings.slice(at).reduce<Run>(({ condition, events }, { value: v, at: t }) => {
          const step = stepRange(condition, of, uncertainty, v, t);
          return { condition: step.condition, events: [...events, ...step.events] };
        }, { condition: kept, events: [] });
        expect([...first.events, ...rest.events]).toEqual(whole.events);
      }),
      { seed, numRuns: 500 },
    );
  });

  it('never flaps inside the deadband', () => {
    const wobble = fc.array(fc.double({ min: -0.999, max: 0.999, noNaN: true }), { minLength: 2, maxLength: 200 });
    fc.assert(
      fc.property(wobble, fc.constantFrom(0.5, 2), (offsets, deadband) => {
        const of: Limit = { id: 'a', kind: 'range', quantity: 'temperature', unit: 'Cel', stage: null, style: null, low: null, high: 30, deadband, onDelayS: 0, offDelayS: 0, priority: 'high', source: 'assumption' };
        // Around the middle of the deadband, never out of it by the low side.
        const readings = offsets.map((offset, index) => ({ at: index * minuteMs, value: 30 - uncertainty - deadband / 2 + offset * deadband }));
        const inBand = readings.map(({ at, value: v }) => ({ at, value: Math.max(v, 30 - uncertainty - deadband + 1e-6) }));
        const { events } = run(inBand, of, offsets.length * minuteMs);
        expect(events.length).toBeLessThanOrEqual(1);
        expect(events.every(({ kind }) => kind === 'raised')).toBe(true);
      }),
      { seed, numRuns: 500 },
    );
  });
});
