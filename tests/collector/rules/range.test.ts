import { describe, expect, it } from 'vitest';
import type { Limit } from '#domain/rules/limit.ts';
import { inside, rejudgeRange, settleRange, stepRange, type RangeCondition, type RangeEvent } from '#domain/rules/range.ts';
import { minuteMs, type EpochMs } from '#domain/units/time.ts';

const limit = (change: Partial<Limit> = {}): Limit => ({
  id: 'a-limit', kind: 'range', quantity: 'temperature', unit: 'Cel', stage: null, style: null, low: null, high: 30,
  deadband: 0.5, onDelayS: 0, offDelayS: 0, priority: 'high', source: 'assumption', ...change,
});

/** Feeds [minute, value] pairs; the events carry minutes too. */
const run = (of: Limit, uncertainty: number, readings: readonly (readonly [number, number])[], until?: number): { events: RangeEvent[]; condition: RangeCondition } => {
  let condition: RangeCondition = inside;
  const events: RangeEvent[] = [];
  for (const [minute, value] of readings) {
    const step = stepRange(condition, of, uncertainty, value, minute * minuteMs);
    condition = step.condition;
    events.push(...step.events);
  }
  if (until !== undefined) {
    const step = settleRange(condition, of, until * minuteMs);
    condition = step.condition;
    events.push(...step.events);
  }
  return { events, condition };
};
const at = (minute: number): EpochMs => minute * minuteMs;

describe('range rule', () => {
  it('counts the uncertainty against the limit: 29.6 ± 0.5 is outside 30, 29.5 ± 0.5 is not', () => {
    expect(run(limit(), 0.5, [[0, 29.6]]).events).toEqual([{ kind: 'raised', side: 'high', since: 0, at: 0, peak: 29.6 }]);
    expect(run(limit(), 0.5, [[0, 29.5]]).events).toEqual([]);
    expect(run(limit({ high: null, low: 12 }), 0.5, [[0, 12.4]]).events).toHaveLength(1);
    expect(run(limit({ high: null, low: 12 }), 0.5, [[0, 12.5]]).events).toEqual([]);
  });

  it('clears only past the limit by the deadband (OPC 10000-9 B.1.5)', () => {
    const { events } = run(limit(), 0, [[0, 30.1], [1, 29.9], [2, 30.2], [3, 29.6], [4, 29.5]]);
    expect(events).toEqual([
      { kind: 'raised', side: 'high', since: 0, at: 0, peak: 30.1 },
      { kind: 'returned', until: at(4), at: at(4), peak: 30.2 },
    ]);
  });

  it('waits for the on-delay, and tells when it began and when it was raised', () => {
    const delayed = limit({ onDelayS: 600 });
    expect(run(delayed, 0, [[0, 31], [9, 32]]).events).toEqual([]);
    expect(run(delayed, 0, [[0, 31], [9, 32], [12, 31.5]]).events).toEqual([{ kind: 'raised', side: 'high', since: 0, at: at(10), peak: 32 }]);
    // Without another reading the clock does it, with the same times.
    expect(run(delayed, 0, [[0, 31], [9, 32]], 11).events).toEqual([{ kind: 'raised', side: 'high', since: 0, at: at(10), peak: 32 }]);
  });

  it('says nothing of what is over before the on-delay', () => {
    expect(run(limit({ onDelayS: 600 }), 0, [[0, 31], [9, 20], [30, 20]], 60).events).toEqual([]);
  });

  it('holds through dips shorter than the off-delay, and gives the raw end of the excursion', () => {
    const held = limit({ offDelayS: 600 });
    const { events } = run(held, 0, [[0, 31], [5, 20], [9, 33], [20, 20], [25, 19]], 30);
    expect(events).toEqual([
      { kind: 'raised', side: 'high', since: 0, at: 0, peak: 31 },
      { kind: 'returned', until: at(20), at: at(30), peak: 33 },
    ]);
  });

  it('returns and rises again in one reading when the off-delay had run out unseen', () => {
    const { events } = run(limit({ offDelayS: 600 }), 0, [[0, 31], [5, 20], [60, 32]]);
    expect(events.map(({ kind, at: time }) => [kind, time])).toEqual([['raised', 0], ['returned', at(15)], ['raised', at(60)]]);
  });

  it('keeps the worst value on the side it is on', () => {
    const low = limit({ high: null, low: 12 });
    expect(run(low, 0, [[0, 11], [1, 8], [2, 10], [3, 13]]).events.at(-1)).toMatchObject({ kind: 'returned', peak: 8 });
  });

  it('with a limit on both sides leaves the range on either', () => {
    const both = limit({ low: 12 });
    expect(run(both, 0, [[0, 11], [1, 20], [2, 31]]).events.map((event) => (event.kind === 'raised' ? event.side : 'back'))).toEqual(['low', 'back', 'high']);
  });

  it('judges nothing against a limit that is switched off', () => {
    expect(run(limit({ high: null }), 0, [[0, 99]]).events).toEqual([]);
  });

  describe('when the limit changes', () => {
    const raised = run(limit(), 0, [[0, 31]]).condition;

    it('ends at once what no longer counts, without an off-delay', () => {
      const { events } = rejudgeRange(raised, limit({ high: 33, offDelayS: 600 }), 0, 31, at(5));
      expect(events).toEqual([{ kind: 'returned', until: at(5), at: at(5), peak: 31 }]);
    });

    it('begins now what counts now', () => {
      expect(rejudgeRange(inside, limit({ high: 28 }), 0, 29, at(5)).events).toEqual([{ kind: 'raised', side: 'high', since: at(5), at: at(5), peak: 29 }]);
    });

    it('ends what is switched off, whatever the value', () => {
      expect(rejudgeRange(raised, limit({ high: null }), 0, null, at(5)).events).toEqual([{ kind: 'returned', until: at(5), at: at(5), peak: 31 }]);
    });

    it('keeps what is announced when the value is not known: unknown is not inside', () => {
      expect(rejudgeRange(raised, limit({ high: 33 }), 0, null, at(5))).toEqual({ condition: raised, events: [] });
    });
  });
});
