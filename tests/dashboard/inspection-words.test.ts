import { describe, expect, it } from 'vitest';
import type { CalibrationCheck, ReadinessCheck } from '#contract';
import { readinessPlaces } from '#domain/readiness/finding.ts';
import { metric } from '../../dashboard/format/units.ts';
import { checkPicture, deviationFacts, placeOf, pointsOf } from '../../dashboard/state/inspection-words.ts';
import { parseRoute, pathOf } from '../../dashboard/state/route.ts';

type Finding = ReadinessCheck['findings'][number];
const finding = (screen: Finding['place']['screen'], id: string | null = null): Finding => ({ level: 'fix', lot: null, text: 't', act: 'a', place: { screen, id } });
const check = (at: string, over: Partial<CalibrationCheck>): CalibrationCheck => ({ sequence: 1, kind: 'ph', at, by: 'owner', text: '', failed: null, foundWrong: null, slopePercent: null, offsetMv: null, errorC: null, bufferError: null, buffers: [], note: null, ...over });

describe('a finding', () => {
  it('leads to a screen that is there, for every place but the limits', () => {
    for (const screen of readinessPlaces) {
      const place = placeOf(finding(screen, 'X'));
      if (place === null) expect(screen).toBe('limits');
      else expect(parseRoute(pathOf(place.to)).view).not.toBe('unknown');
    }
  });
  it('of a lot leads to that lot', () => {
    expect(placeOf(finding('batch', 'A1'))).toEqual({ words: 'Lot A1', to: { view: 'batch', lot: 'A1' } });
  });
});

describe('a deviation', () => {
  const bound = { value: 4.3, unit: 'pH', source: 's', side: 'high' as const };
  it.each([
    [{ bound, worst: 4.52 }, 'At most pH\u00a04.3, worst pH\u00a04.52'],
    [{ bound: { ...bound, side: 'low' as const }, worst: null }, 'At least pH\u00a04.3, worst value not recorded'],
    [{ bound: { ...bound, value: null }, worst: null }, 'Limit, worst value not recorded'],
  ])('tells limit and worst value: %j', (deviation, words) => {
    expect(deviationFacts(deviation, metric)).toBe(words);
  });
});

describe('checks over time', () => {
  it('are taken oldest first, without those that tell nothing of the number', () => {
    const checks = [check('2026-10-05T00:00:00Z', { slopePercent: 90, failed: 'slope' }), check('2026-10-03T00:00:00Z', {}), check('2026-10-01T00:00:00Z', { slopePercent: 98 })];
    expect(pointsOf(checks, 'slopePercent').map(({ value, failed }) => [value, failed])).toEqual([[98, false], [90, true]]);
  });
  it('are drawn with the band and every point inside, higher values higher', () => {
    const points = [{ t: 0, value: 80, failed: true }, { t: 5, value: 97, failed: false }, { t: 10, value: 105, failed: true }];
    const { dots, bandTop, bandBottom } = checkPicture(points, { low: 92, high: 102 });
    expect(dots.map(({ x }) => x)).toEqual([0, 0.5, 1]);
    for (const y of [...dots.map((dot) => dot.y), bandTop, bandBottom]) {
      expect(y).toBeGreaterThan(0);
      expect(y).toBeLessThan(1);
    }
    const [low, middle, high] = dots.map(({ y }) => y);
    expect([high, bandTop, middle, bandBottom, low]).toEqual([high, bandTop, middle, bandBottom, low].toSorted((one, other) => (one ?? 0) - (other ?? 0)));
    expect(checkPicture(points.slice(0, 1), { low: 92, high: 102 }).dots).toMatchObject([{ x: 0.5 }]);
  });
});
