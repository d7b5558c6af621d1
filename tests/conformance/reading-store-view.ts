import { describe, expect, test } from 'vitest';
import type { SeriesId } from '#domain/reading/reading.ts';
import type { SeriesView, Span } from '#domain/reading/store.ts';
import { dayMs, hourMs, minuteMs, secondMs } from '#domain/units/time.ts';
import { hourlyNormals } from '../helpers/hourly-normals.ts';
import { expectPooled, referencePoint } from '../helpers/reading-reference.ts';
import { brine, evenly, reading, start } from '../helpers/readings.ts';
import type { StoreUnderTest } from '../helpers/store-harness.ts';

const spare: SeriesId = 'spare-2/temperature';

export const viewConformance = ({ store }: StoreUnderTest): void => {
  const viewOf = (span: Span, points: number, series: SeriesId = brine): Promise<SeriesView> => store().view([{ series, ...span }], span, points);

  describe('shows a series in a number of points', () => {
    test('every reading is a point of its own where they fit', async () => {
      await store().append(evenly(120, 10 * secondMs));
      const view = await viewOf({ from: start, to: start + 20 * minuteMs }, 120);
      expect(view).toEqual({
        level: 'raw',
        points: evenly(120, 10 * secondMs).map(({ at, value }) => ({ t: at, mean: value, min: value, max: value, count: 1 })),
        gaps: [],
      });
    });

    test('a day of readings every ten seconds is raw when 10,000 points are asked', async () => {
      await store().append(evenly(8_640, 10 * secondMs));
      const view = await viewOf({ from: start, to: start + dayMs }, 10_000);
      expect(view).toMatchObject({ level: 'raw', gaps: [] });
      expect(view.points.length).toBe(8_640);
    });

    test('one reading too many and neighbours are merged, over whole seconds from the epoch', async () => {
      await store().append(evenly(121, 10 * secondMs));
      const view = await viewOf({ from: start, to: start + dayMs }, 120);
      expect(view.level).toBe('raw');
      expect(view.points.length).toBeLessThanOrEqual(120);
      expect(view.points.length).toBeGreaterThan(60);
      expectPooled(view.points, referencePoint(evenly(121, 10 * secondMs), brine, { from: start, to: start + dayMs }));
    });

    test('three weeks of minutes come from ten-minute rows, each exact', async () => {
      const readings = evenly(21 * 24 * 60, minuteMs);
      await store().append(readings);
      const coarse = await viewOf({ from: start, to: start + 21 * dayMs }, 1_000);
      expect(coarse.level).toBe('10min');
      expect(coarse.points.length).toBeLessThanOrEqual(1_000);
      for (const [index, point] of coarse.points.entries()) {
        const span = { from: point.t, to: coarse.points[index + 1]?.t ?? start + 21 * dayMs };
        expect(point).toEqual({ t: point.t, ...referencePoint(readings.slice((span.from - start) / minuteMs, (span.to - start) / minuteMs), brine, span) });
      }
    });

    test('a reading that is not good is in no row of any level', async () => {
      // Every seventh minute the probe does not answer, and says so: let in, it would pull each mean down by some twenty degrees.
      const readings = evenly(21 * 24 * 60, minuteMs).map((each, index) => (index % 7 === 3 ? { ...each, value: -127, quality: 'disconnected' as const } : each));
      await store().append(readings);
      const span = { from: start, to: start + 21 * dayMs };
      for (const [points, level] of [[1_000, '10min'], [50, '6h']] as const) {
        const view = await viewOf(span, points);
        expect(view.level).toBe(level);
        expectPooled(view.points, referencePoint(readings, brine, span));
      }
    });

    test('a year in a thousand points comes from six-hour rows, merged to twelve hours', async () => {
      await store().append(evenly(365 * 144, 10 * minuteMs));
      const view = await viewOf({ from: start, to: start + 365 * dayMs }, 1_000);
      expect(view).toMatchObject({ level: '6h', gaps: [] });
      expect(view.points.map(({ t }) => t)).toEqual(Array.from({ length: 730 }, (_, index) => start + index * 12 * hourMs));
      expect(view.points.every(({ count }) => count === 72)).toBe(true);
    });

    // NOAA hourly climate normals of Seattle, 1981 to 2010 (US Government work): 8,759 values; extremes and mean as the file itself gives them.
    test('a real year of hourly temperatures keeps its mean and extremes at every level', async () => {
      const normals = hourlyNormals();
      const mean = normals.reduce((sum, { temperatureC }) => sum + temperatureC, 0) / normals.length;
      expect(mean).toBeCloseTo(11.1276, 4);
      const from = Date.UTC(2010, 0, 1);
      const span = { from, to: Date.UTC(2011, 0, 1) };
      await store().append(normals.map(({ t, temperatureC }) => reading(t, temperatureC)));
      for (const [points, level] of [[10_000, 'raw'], [1_000, 'raw'], [400, '6h'], [50, '6h'], [1, '6h']] as const) {
        const view = await viewOf(span, points);
        expect(view.level).toBe(level);
        expect(view.points.length).toBeLessThanOrEqual(points);
        expectPooled(view.points, { count: 8_759, min: 3.1, max: 24.4, mean });
      }
    });

    test('a mean counts readings, not intervals', async () => {
      // Ten days of minutes at 20 and ten days of hours at 10: of 14,640 readings all but 240 say 20.
      const readings = [...Array.from({ length: 14_400 }, (_, index) => reading(start + index * minuteMs, 20)), ...Array.from({ length: 240 }, (_, index) => reading(start + 10 * dayMs + index * hourMs, 10))];
      await store().append(readings);
      const view = await viewOf({ from: start, to: start + 20 * dayMs }, 2);
      expect(view.level).toBe('6h');
      const single = await viewOf({ from: start, to: start + 20 * dayMs }, 1);
      expect(single.points).toEqual([{ t: start, mean: (14_400 * 20 + 240 * 10) / 14_640, min: 10, max: 20, count: 14_640 }]);
      // What forgetting the counts would give.
      expect(single.points[0]?.mean).not.toBeCloseTo(15, 0);
    });

    test('the mean of a point stays between its lowest and highest reading, whatever the sum rounds to', async () => {
      await store().append([0, 1, 2].map((index) => reading(start + index * minuteMs, 0.1)));
      expect((0.1 + 0.1 + 0.1) / 3).toBeGreaterThan(0.1);
      expect((await viewOf({ from: start, to: start + hourMs }, 1)).points).toEqual([{ t: start, mean: 0.1, min: 0.1, max: 0.1, count: 3 }]);
    });

    test('the edges of a span cut exactly, at every level', async () => {
      const readings = evenly(3 * 24 * 60, minuteMs);
      await store().append(readings);
      for (const points of [5_000, 40, 2, 1]) {
        for (const [fromMinute, toMinute] of [[0, 4_320], [1, 4_319], [7, 3_333], [359, 361], [360, 720], [605, 615]] as const) {
          const span = { from: start + fromMinute * minuteMs, to: start + toMinute * minuteMs };
          const view = await viewOf(span, points);
          expect(view.points.length).toBeLessThanOrEqual(points);
          expectPooled(view.points, referencePoint(readings, brine, span));
          expect(view.points.every(({ t }) => t >= span.from && t < span.to)).toBe(true);
        }
      }
    });

    test('ten years asked where a week is stored are read as finely as that week', async () => {
      await store().append(evenly(7 * 24 * 60, minuteMs));
      const view = await viewOf({ from: start - 5 * 365 * dayMs, to: start + 5 * 365 * dayMs }, 100);
      expect(view.level).toBe('10min');
      expect(view.points.length).toBeGreaterThan(50);
    });

    test('a span without width, or outside everything stored, is empty', async () => {
      await store().append(evenly(100, minuteMs));
      expect(await viewOf({ from: start, to: start }, 10)).toEqual({ level: 'raw', points: [], gaps: [] });
      expect((await viewOf({ from: start - dayMs, to: start }, 10)).points).toEqual([]);
      expect((await viewOf({ from: start + 100 * minuteMs, to: start + dayMs }, 10)).points).toEqual([]);
    });

    test('a number of points that is none is a mistake of the caller', async () => {
      const span = { from: start, to: start + dayMs };
      for (const points of [0, -1, 1.5, NaN]) await expect(viewOf(span, points)).rejects.toThrow(RangeError);
    });
  });

  describe('joins the segments of a drum whose probe was replaced', () => {
    const replacedAt = start + 2 * dayMs + 95 * minuteMs + 30 * secondMs;
    const span = { from: start, to: start + 4 * dayMs };
    const segments = [
      { series: brine, from: start - dayMs, to: replacedAt },
      { series: spare, from: replacedAt, to: Infinity },
    ];

    test('each series counts in its own segment only, in order of time, at every level', async () => {
      // Both probes go on the whole time; only one of them is in the drum.
      const first = evenly(4 * 24 * 60, minuteMs);
      const second = evenly(4 * 24 * 60, minuteMs, start, spare).map((each) => ({ ...each, value: each.value + 100 }));
      await store().append([...first, ...second]);
      const expected = [...first.filter(({ at }) => at < replacedAt), ...second.filter(({ at }) => at >= replacedAt)].map((each) => ({ ...each, series: brine }));
      for (const points of [6_000, 300, 30, 2, 1]) {
        const view = await store().view(segments, span, points);
        expect(view.points.length).toBeLessThanOrEqual(points);
        expect(view.gaps).toEqual([]);
        expectPooled(view.points, referencePoint(expected, brine, span));
        const times = view.points.map(({ t }) => t);
        expect(times).toEqual(times.toSorted((one, other) => one - other));
        expect(new Set(times).size).toBe(times.length);
      }
    });

    test('time in which nothing watched the drum is a gap', async () => {
      await store().append([...evenly(60, minuteMs), ...evenly(60, minuteMs, start + 5 * hourMs, spare)]);
      const view = await store().view(
        [
          { series: brine, from: start, to: start + 30 * minuteMs },
          { series: spare, from: start + 5 * hourMs, to: start + 6 * hourMs },
        ],
        { from: start, to: start + 6 * hourMs },
        500,
      );
      expect(view.points.length).toBe(90);
      expect(view.gaps).toEqual([{ from: start + 29 * minuteMs, to: start + 5 * hourMs }]);
    });

    test('without a segment nothing was watched', async () => {
      await store().append(evenly(60, minuteMs));
      expect(await store().view([], span, 10)).toEqual({ level: 'raw', points: [], gaps: [span] });
    });
  });

  describe('reports gaps', () => {
    test('a silence longer than ten minutes, from the last good reading to the next', async () => {
      const readings = evenly(360, 10 * secondMs).filter(({ at }) => at <= start + 20 * minuteMs || at >= start + 31 * minuteMs);
      await store().append(readings);
      const view = await viewOf({ from: start, to: start + hourMs }, 1_000);
      expect(view.gaps).toEqual([{ from: start + 20 * minuteMs, to: start + 31 * minuteMs }]);
    });

    test('ten minutes to the millisecond are no gap yet', async () => {
      await store().append([...evenly(10, minuteMs), ...evenly(10, minuteMs, start + 19 * minuteMs)]);
      expect((await viewOf({ from: start, to: start + 28 * minuteMs + 1 }, 100)).gaps).toEqual([]);
      expect((await viewOf({ from: start, to: start + 38 * minuteMs }, 100)).gaps).toEqual([]);
      expect((await viewOf({ from: start, to: start + 38 * minuteMs + 1 }, 100)).gaps).toEqual([{ from: start + 28 * minuteMs, to: start + 38 * minuteMs + 1 }]);
    });

    test('a probe that speaks once an hour is silent after three hours, not after ten minutes', async () => {
      const readings = evenly(48, hourMs).filter((_, index) => index !== 10 && index !== 20 && index !== 21 && index !== 22);
      await store().append(readings);
      const view = await viewOf({ from: start, to: start + 48 * hourMs }, 500);
      expect(view.gaps).toEqual([{ from: start + 19 * hourMs, to: start + 23 * hourMs }]);
    });

    test('the beginning and the end of the span count', async () => {
      await store().append(evenly(60, minuteMs, start + 2 * hourMs));
      const span = { from: start, to: start + 5 * hourMs };
      expect((await viewOf(span, 500)).gaps).toEqual([
        { from: start, to: start + 2 * hourMs },
        { from: start + 2 * hourMs + 59 * minuteMs, to: span.to },
      ]);
      expect((await viewOf({ from: start + 115 * minuteMs, to: start + 185 * minuteMs }, 500)).gaps).toEqual([]);
    });

    test('readings that are not good do not fill a gap', async () => {
      const readings = evenly(120, minuteMs).map((each, index) => (index >= 30 && index < 60 ? { ...each, value: -127, quality: 'disconnected' as const } : each));
      await store().append(readings);
      expect((await viewOf({ from: start, to: start + 2 * hourMs }, 500)).gaps).toEqual([{ from: start + 29 * minuteMs, to: start + 60 * minuteMs }]);
    });

    test('in ten-minute rows a gap is the empty rows, more than two of them', async () => {
      const silentFrom = start + 3 * dayMs;
      const silent = (minutes: number) => evenly(6 * 24 * 60, minuteMs).filter(({ at }) => at < silentFrom || at >= silentFrom + minutes * minuteMs);
      await store().append(silent(30));
      const span = { from: start, to: start + 6 * dayMs };
      const view = await viewOf(span, 200);
      expect(view.level).toBe('10min');
      expect(view.gaps).toEqual([{ from: silentFrom, to: silentFrom + 30 * minuteMs }]);
      // Two empty rows are within what the edges of intervals can hide; fill the third from behind.
      await store().append([reading(silentFrom + 25 * minuteMs, 20)]);
      expect((await viewOf(span, 200)).gaps).toEqual([]);
    });

    test('no point stands inside a gap', async () => {
      const readings = evenly(30 * 24 * 60, minuteMs).filter(({ at }) => Math.floor((at - start) / dayMs) % 9 !== 4);
      await store().append(readings);
      for (const points of [40_000, 500, 60, 12, 3]) {
        const view = await viewOf({ from: start, to: start + 30 * dayMs }, points);
        expect(view.gaps.length).toBe(3);
        for (const gap of view.gaps) expect(view.points.filter(({ t }) => t > gap.from && t < gap.to)).toEqual([]);
      }
    });
  });
};
