import { describe, expect, test } from 'vitest';
import { dayMs, minuteMs } from '#domain/units/time.ts';
import { air, brine, evenly, reading, start } from '../helpers/readings.ts';
import type { StoreUnderTest } from '../helpers/store-harness.ts';

export const askConformance = ({ store }: StoreUnderTest): void => {
  describe('gives readings back', () => {
    test('an empty store has nothing, and says so without failing', async () => {
      const span = { from: start, to: start + dayMs };
      expect(await store().latest()).toEqual(new Map());
      expect(await store().latest([brine])).toEqual(new Map());
      expect(await store().recent(brine, 5)).toEqual([]);
      expect(await store().raw(brine, span, 10)).toEqual([]);
      expect(await store().summaries()).toEqual([]);
      expect(await store().view([{ series: brine, ...span }], span, 100)).toEqual({ level: 'raw', points: [], gaps: [span] });
    });

    test('latest is the newest by its own time, whatever its quality and whenever it came', async () => {
      await store().append([reading(start + 2 * minuteMs, 85, brine, 'power-on'), reading(start, 24, air)]);
      await store().append([reading(start + minuteMs, 19, brine)]);
      expect(await store().latest()).toEqual(
        new Map([
          [brine, reading(start + 2 * minuteMs, 85, brine, 'power-on')],
          [air, reading(start, 24, air)],
        ]),
      );
      expect(await store().latest([air, 'nobody/ph'])).toEqual(new Map([[air, reading(start, 24, air)]]));
    });

    test('a duplicate or a conflict does not become the latest', async () => {
      await store().append([reading(start, 18)]);
      await store().append([reading(start, 18, brine, 'stuck'), reading(start, 30)]);
      expect((await store().latest()).get(brine)).toEqual(reading(start, 18));
    });

    test('what was given by latest stays as it was while readings go on', async () => {
      await store().append([reading(start, 18)]);
      const then = await store().latest();
      await store().append([reading(start + 1, 19)]);
      expect(then.get(brine)?.value).toBe(18);
    });

    test('recent gives the last readings before a time, oldest first, the time itself left out', async () => {
      const batch = evenly(10, minuteMs);
      await store().append(batch.toReversed());
      expect(await store().recent(brine, 3)).toEqual(batch.slice(7));
      expect(await store().recent(brine, 3, start + 5 * minuteMs)).toEqual(batch.slice(2, 5));
      expect(await store().recent(brine, 3, start + 5 * minuteMs + 1)).toEqual(batch.slice(3, 6));
      expect(await store().recent(brine, 50)).toEqual(batch);
      expect(await store().recent(brine, 3, start)).toEqual([]);
      expect(await store().recent(brine, 0)).toEqual([]);
    });

    test('raw gives a half-open span, oldest first, no more than the limit and those the first', async () => {
      const batch = evenly(10, minuteMs);
      await store().append(batch.toReversed());
      const span = { from: start + 2 * minuteMs, to: start + 6 * minuteMs };
      expect(await store().raw(brine, span, 100)).toEqual(batch.slice(2, 6));
      expect(await store().raw(brine, span, Infinity)).toEqual(batch.slice(2, 6));
      expect(await store().raw(brine, span, 2)).toEqual(batch.slice(2, 4));
      expect(await store().raw(brine, span, 0)).toEqual([]);
      expect(await store().raw(brine, { from: span.from, to: span.from }, 100)).toEqual([]);
      expect(await store().raw(brine, { from: span.to, to: span.from }, 100)).toEqual([]);
    });

    test('summaries count readings of any quality and name first and last, in order of the series', async () => {
      await store().append([...evenly(5, minuteMs), reading(start - 1, -127, brine, 'disconnected'), ...evenly(3, minuteMs, start, air), ...evenly(2, minuteMs)]);
      expect(await store().summaries()).toEqual([
        { series: air, count: 3, first: evenly(3, minuteMs, start, air)[0], last: evenly(3, minuteMs, start, air)[2] },
        { series: brine, count: 6, first: reading(start - 1, -127, brine, 'disconnected'), last: evenly(5, minuteMs)[4] },
      ]);
    });
  });
};
