import { describe, expect, test } from 'vitest';
import { appended } from '#domain/reading/store.ts';
import { dayMs, hourMs, minuteMs, secondMs } from '#domain/units/time.ts';
import { qualities } from '#domain/reading/reading.ts';
import { expectPooled, goodWithin, referenceContents, referencePoint } from '../helpers/reading-reference.ts';
import { air, brine, evenly, reading, start } from '../helpers/readings.ts';
import type { StoreUnderTest } from '../helpers/store-harness.ts';

const everything = { from: start - 400 * dayMs, to: start + 400 * dayMs };

export const appendConformance = ({ store }: StoreUnderTest): void => {
  describe('takes readings in', () => {
    test('says of each reading of a batch what became of it', async () => {
      await store().append([reading(start, 18), reading(start + secondMs, 19)]);
      const outcome = await store().append([reading(start, 18), reading(start + secondMs, 19.5), reading(start + 2 * secondMs, 20)]);
      expect([...outcome.outcomes]).toEqual([appended.duplicate, appended.conflict, appended.stored]);
      expect(outcome).toMatchObject({ stored: 1, duplicates: 1, conflicts: 1 });
    });

    test('a batch delivered twice changes nothing the second time', async () => {
      const batch = evenly(500, 10 * secondMs);
      await store().append(batch);
      const span = { from: start, to: start + 6 * hourMs };
      const before = await store().view([{ series: brine, ...span }], span, 1);
      const again = await store().append(batch);
      expect(again).toMatchObject({ stored: 0, duplicates: 500, conflicts: 0 });
      expect(await store().raw(brine, everything, 1_000)).toEqual(batch);
      expect(await store().view([{ series: brine, ...span }], span, 1)).toEqual(before);
    });

    test('the same time twice in one batch: the first counts, an equal one is a duplicate, another a conflict', async () => {
      const outcome = await store().append([reading(start, 18), reading(start, 18), reading(start, 17), reading(start, 17)]);
      expect([...outcome.outcomes]).toEqual([appended.stored, appended.duplicate, appended.conflict, appended.conflict]);
      expect(await store().raw(brine, everything, 10)).toEqual([reading(start, 18)]);
    });

    test('a conflict keeps the first value, in the readings and in every level of the view', async () => {
      const span = { from: start, to: start + 6 * hourMs };
      await store().append(evenly(60, 6 * minuteMs));
      const first = await store().view([{ series: brine, ...span }], span, 1);
      await store().append(evenly(60, 6 * minuteMs).map((each) => ({ ...each, value: each.value + 40 })));
      expect(await store().view([{ series: brine, ...span }], span, 1)).toEqual(first);
      expect(await store().raw(brine, everything, 100)).toEqual(evenly(60, 6 * minuteMs));
    });

    test('an equal value of another quality at a stored time is a duplicate, and the first quality stays', async () => {
      await store().append([reading(start, 18, brine, 'uncalibrated')]);
      const outcome = await store().append([reading(start, 18, brine, 'good')]);
      expect([...outcome.outcomes]).toEqual([appended.duplicate]);
      expect(await store().raw(brine, everything, 10)).toEqual([reading(start, 18, brine, 'uncalibrated')]);
      const span = { from: start, to: start + hourMs };
      expect((await store().view([{ series: brine, ...span }], span, 10)).points).toEqual([]);
    });

    test('two series may have readings at the same time', async () => {
      const outcome = await store().append([reading(start, 18, brine), reading(start, 24, air)]);
      expect(outcome.stored).toBe(2);
      expect((await store().raw(air, everything, 10)).map(({ value }) => value)).toEqual([24]);
    });

    test('keeps every value to the last bit, negative and tiny ones too', async () => {
      const values = [-12.3, 0.1 + 0.2, 1 / 3, -0.0001, 5e-324, 1.7976931348623157e308, 0, 18];
      await store().append(values.map((value, index) => reading(start + index, value)));
      expect((await store().raw(brine, everything, 10)).map(({ value }) => value)).toEqual(values);
      expect(await store().append([reading(start + 1, 0.1 + 0.2)])).toMatchObject({ duplicates: 1 });
      expect(await store().append([reading(start + 1, 0.3)])).toMatchObject({ conflicts: 1 });
    });

    test('takes a negative zero for the zero it is', async () => {
      await store().append([reading(start, -0)]);
      expect(await store().append([reading(start, 0)])).toMatchObject({ duplicates: 1 });
      expect((await store().latest()).get(brine)?.value).toBe(0);
    });

    test('keeps every quality, and only good readings enter the view', async () => {
      const batch = qualities.map((quality, index) => reading(start + index * minuteMs, 20 + index, brine, quality));
      await store().append(batch);
      expect(await store().raw(brine, everything, 100)).toEqual(batch);
      const span = { from: start, to: start + hourMs };
      expect((await store().view([{ series: brine, ...span }], span, 100)).points).toEqual([{ t: start, mean: 20, min: 20, max: 20, count: 1 }]);
    });

    test('late readings go to their own time and correct every rollup they fall in', async () => {
      const inOrder = evenly(2 * 24 * 60, minuteMs);
      const late = inOrder.filter((_, index) => index % 7 === 3);
      await store().append(inOrder.filter((_, index) => index % 7 !== 3));
      await store().append(late.toReversed());
      expect(await store().raw(brine, everything, 10_000)).toEqual(inOrder);
      const contents = referenceContents(inOrder);
      for (let from = start; from < start + 2 * dayMs; from += 6 * hourMs) {
        const span = { from, to: from + 6 * hourMs };
        const view = await store().view([{ series: brine, ...span }], span, 1);
        expect(view.level).toBe('6h');
        expectPooled(view.points, referencePoint(contents, brine, span));
      }
    });

    test('a late reading before the first and one between two good days are both found', async () => {
      await store().append([reading(start + dayMs, 20), reading(start + 3 * dayMs, 22)]);
      await store().append([reading(start - dayMs, 18), reading(start + 2 * dayMs, 21)]);
      expect((await store().raw(brine, everything, 10)).map(({ value }) => value)).toEqual([18, 20, 21, 22]);
      expect(await store().summaries()).toMatchObject([{ series: brine, count: 4, first: { value: 18 }, last: { value: 22 } }]);
    });

    test('an empty batch is no trouble', async () => {
      expect(await store().append([])).toMatchObject({ stored: 0, duplicates: 0, conflicts: 0 });
    });

    test('a batch with something that is no reading is refused whole', async () => {
      const sound = reading(start, 18);
      const wrong = [
        reading(start + 1, NaN),
        reading(start + 1, Infinity),
        reading(start + 0.5, 18),
        reading(NaN, 18),
        { ...sound, at: start + 1, quality: 'splendid' as 'good' },
        { ...sound, at: start + 1, series: 'north-1' as typeof brine },
        { ...sound, at: start + 1, series: 'north-1/depth' as typeof brine },
      ];
      for (const each of wrong) await expect(store().append([sound, each])).rejects.toThrow(RangeError);
      expect(await store().summaries()).toEqual([]);
      expect(await store().append([sound])).toMatchObject({ stored: 1 });
    });

    test('many series in one batch stay apart', async () => {
      const names = Array.from({ length: 150 }, (_, index) => `probe-${index}/temperature` as const);
      const batch = Array.from({ length: 20 }, (_, step) => names.map((series, index) => reading(start + step * minuteMs, index + step / 16, series))).flat();
      expect((await store().append(batch)).stored).toBe(3_000);
      const span = { from: start, to: start + hourMs };
      for (const [index, series] of names.entries()) {
        expect(goodWithin(batch, series, span).length).toBe(20);
        expectPooled((await store().view([{ series, ...span }], span, 1)).points, referencePoint(batch, series, span));
        expect((await store().latest([series])).get(series)?.value).toBe(index + 19 / 16);
      }
    });
  });
};
