import { expect } from 'vitest';
import type { Reading, SeriesId } from '#domain/reading/reading.ts';
import type { Point, Span } from '#domain/reading/store.ts';

/**
 * What a store must hold and say, worked out the slow and plain way from everything ever appended: no rollups, no levels, no indexes.
 */
export const referenceContents = (appended: readonly Reading[]): readonly Reading[] => {
  const kept: Reading[] = [];
  for (const reading of appended) if (!kept.some((other) => other.series === reading.series && other.at === reading.at)) kept.push(reading);
  return kept.toSorted((one, other) => one.at - other.at);
};

export const goodWithin = (contents: readonly Reading[], series: SeriesId, { from, to }: Span): readonly Reading[] =>
  contents.filter((reading) => reading.series === series && reading.quality === 'good' && reading.at >= from && reading.at < to);

/** All good readings of a span as one point, or none. */
export const referencePoint = (contents: readonly Reading[], series: SeriesId, span: Span): Omit<Point, 't'> | null => {
  const values = goodWithin(contents, series, span).map(({ value }) => value);
  if (values.length === 0) return null;
  return { mean: values.reduce((sum, value) => sum + value, 0) / values.length, min: Math.min(...values), max: Math.max(...values), count: values.length };
};

/** Expects points to stand, together, for exactly these good readings; the mean may differ by the rounding of its sum. */
export const expectPooled = (points: readonly Point[], expected: Omit<Point, 't'> | null): void => {
  const found = pooled(points);
  expect(found === null ? null : { ...found, mean: 0 }).toEqual(expected === null ? null : { ...expected, mean: 0 });
  if (found !== null && expected !== null) expect(Math.abs(found.mean - expected.mean)).toBeLessThanOrEqual(1e-12 * Math.max(1, Math.abs(expected.mean)));
};

/** Several points as one: means weighted by their counts. */
const pooled = (points: readonly Point[]): Omit<Point, 't'> | null => {
  const count = points.reduce((sum, point) => sum + point.count, 0);
  if (count === 0) return null;
  const mean = points.reduce((sum, point) => sum + point.mean * point.count, 0) / count;
  return { mean, min: Math.min(...points.map(({ min }) => min)), max: Math.max(...points.map(({ max }) => max)), count };
};
