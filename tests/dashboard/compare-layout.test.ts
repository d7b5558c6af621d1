/** The pictures of the comparison as plain numbers. */
import { describe, expect, it } from 'vitest';
import { metric } from '../../dashboard/format/units.ts';
import { drawOverlay } from '../../dashboard/parts/compare/overlay-layout.ts';
import { drawScatter, type Scatter } from '../../dashboard/parts/compare/scatter-layout.ts';
import { groupOf, pairOf, six, type Made } from '../helpers/compare-fixture.ts';

const frame = { width: 900, height: 400, textPx: 16, units: metric };
const scatterOf = (made: readonly Made[], over: Partial<typeof frame> = {}): Scatter => drawScatter(groupOf(made), { ...frame, ...over });
const numbersIn = (path: string): readonly number[] => (path.match(/-?[\d.]+/g) ?? []).map(Number);

describe('days against temperature', () => {
  const drawn = scatterOf(six);

  it('puts the warmer right and the longer higher', () => {
    for (const [index, point] of drawn.points.slice(1).entries()) {
      expect(point.x).toBeGreaterThan(drawn.points[index]?.x ?? 0);
      expect(point.y).toBeGreaterThan(drawn.points[index]?.y ?? 0);
    }
  });

  it('agrees with its own marks: a cure at 14 °C stands over the 14', () => {
    const mark = drawn.xTicks.find(({ label }) => label === '14');
    expect(drawn.points[1]?.x).toBeCloseTo(mark?.x ?? 0, 6);
    const twenty = drawn.yTicks.find(({ label }) => label === '20');
    const forty = drawn.yTicks.find(({ label }) => label === '40');
    // 21 days, a twentieth above the 20 of the way to the 40.
    const step = (twenty?.y ?? 0) - (forty?.y ?? 0);
    expect(drawn.points[5]?.y).toBeCloseTo((twenty?.y ?? 0) - step / 20, 6);
  });

  it('draws the line only where cures are, and what is beyond apart from it', () => {
    const line = numbersIn(drawn.line);
    expect(drawn.beyond).toHaveLength(2);
    const [cold, warm] = drawn.beyond;
    expect(cold?.to).toBeCloseTo(line[0] ?? 0, 0);
    expect(warm?.from).toBeCloseTo(line.at(-2) ?? 0, 0);
    // Three degrees past the cures on each side, of a scale from 7 to 29 °C.
    const perDegree = (drawn.plot.right - drawn.plot.left) / 22;
    expect((cold?.to ?? 0) - drawn.plot.left).toBeCloseTo(2 * perDegree, 6);
  });

  it('shows between which tastings a cure turned, with the ring in the middle', () => {
    const [point] = scatterOf([[15, 30, 10]]).points;
    expect(point?.earliest).toBeGreaterThan(point?.y ?? 0);
    expect(point?.latest).toBeLessThan(point?.y ?? 0);
    expect(((point?.earliest ?? 0) + (point?.latest ?? 0)) / 2).toBeCloseTo(point?.y ?? 0, 6);
    expect(scatterOf([[15, 30]]).points[0]?.earliest).toBe(null);
  });

  it('draws no line for fewer than four, and keeps them off the edge', () => {
    const few = scatterOf(six.slice(0, 2));
    expect([few.line, few.band, few.shrunken, few.beyond]).toEqual(['', '', '', []]);
    for (const { x, y } of few.points) {
      expect(x).toBeGreaterThan(few.plot.left + 20);
      expect(x).toBeLessThan(few.plot.right - 20);
      expect(y).toBeGreaterThan(few.plot.top);
    }
  });

  it('draws the pulled slope only where it differs', () => {
    expect(drawn.shrunken).toBe('');
    expect(scatterOf([[14, 40], [16, 52], [18, 22], [19, 26]]).shrunken).not.toBe('');
  });

  it('does not let a wide interval press the cures flat', () => {
    const wide = scatterOf([[14, 40], [16, 52], [18, 22], [19, 26]]);
    const highest = Math.min(...wide.points.map(({ y }) => y));
    expect(highest).toBeLessThan(wide.plot.top + (wide.plot.bottom - wide.plot.top) / 2);
  });

  it('marks whole degrees only, and writes no lot code over another', () => {
    for (const { label } of scatterOf([[15, 30]]).xTicks) expect(label).toMatch(/^\d+$/);
    const crowd = scatterOf([[15, 30], [15.1, 30], [15.2, 30], [15.3, 30], [15.4, 30]], { width: 360 });
    const labels = crowd.points.flatMap(({ label }) => (label === null ? [] : [label]));
    expect(labels.length).toBeLessThan(5);
    expect(labels.length).toBeGreaterThan(0);
  });
});

describe('two cures over one scale of days', () => {
  const pair = pairOf({ tastings: [{ day: 60, bitterness: 1 }], jarredDay: 61, end: { sweetAt: '', days: 60, bitterDays: null, likelyDays: 60 }, temperature: [{ day: 0, min: 11, mean: 12, max: 13 }, { day: 60, min: 11, mean: 12, max: 13 }] });
  const drawn = drawOverlay(pair, { width: 900, textPx: 16, units: metric });
  const [first, second] = drawn.courses;

  it('puts the same day of both at the same place', () => {
    const middle = (first.end ?? 0) - drawn.left;
    expect((second.end ?? 0) - drawn.left).toBeCloseTo(middle / 2, 6);
    expect(drawn.dayTicks.map(({ label }) => label)).toEqual(['0', '7', '14', '21', '28', '35', '42', '49', '56']);
    expect(second.changes[0]?.x).toBeCloseTo(drawn.dayTicks[1]?.x ?? 0, 6);
  });

  it('keeps the colder below the warmer and the sweeter below the bitter', () => {
    expect(numbersIn(first.line[0] ?? '')[1]).toBeGreaterThan(numbersIn(second.line[0] ?? '')[1] ?? Infinity);
    expect(second.tastings.map(({ score }) => score)).toEqual(['5', '3', '1']);
    expect(second.tastings[2]?.y).toBeGreaterThan(second.tastings[0]?.y ?? Infinity);
    // Done at one or less: the last tasting stands on the line of the end point.
    expect(second.tastings[2]?.y).toBeCloseTo(drawn.bitterness.endPoint, 6);
  });

  it('draws each cure’s changes on a row of its own', () => {
    expect(new Set(first.changes.map(({ y }) => y)).size).toBe(1);
    expect(second.changes[0]?.y).toBeGreaterThan(first.changes[0]?.y ?? 0);
  });

  it('breaks the line at a gap and hatches it', () => {
    const gappy = drawOverlay(pairOf({ temperature: [0, 1, 2, 9, 10].map((day) => ({ day, min: 15, mean: 16, max: 17 })), gaps: [{ from: 2.5, to: 8.5 }] }), { width: 900, textPx: 16, units: metric });
    expect(gappy.courses[0].line).toHaveLength(2);
    expect(gappy.courses[0].gaps).toHaveLength(1);
  });

  it('holds a cure without readings or tastings', () => {
    const bare = drawOverlay(pairOf({ temperature: [], tastings: [], changes: [], end: { reason: 'never-tasted', text: '' } }), { width: 320, textPx: 16, units: metric });
    expect(bare.courses[0]).toMatchObject({ line: [], tastings: [], tastingLine: '', end: null });
  });
});
