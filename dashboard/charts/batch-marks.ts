import type { BatchDetail } from '#contract';
import type { ChartBand, ChartMark } from './chart-data.ts';

/** Narrowest pair of limits in force: what the band of the chart shows. */
export const bandOf = (batch: BatchDetail | null, quantity: string): ChartBand => {
  const ranges = (batch?.limits ?? []).filter((limit) => limit.kind === 'range' && limit.quantity === quantity && limit.priority !== 'note');
  const lows = ranges.flatMap(({ low }) => (low === null ? [] : [low]));
  const highs = ranges.flatMap(({ high }) => (high === null ? [] : [high]));
  return { low: lows.length === 0 ? null : Math.max(...lows), high: highs.length === 0 ? null : Math.min(...highs) };
};

/** Brine changes and tastings that stand. */
export const marksOf = (batch: BatchDetail | null): readonly ChartMark[] =>
  (batch?.entries ?? []).filter(({ standing }) => standing).flatMap(({ kind, at, body }): ChartMark[] => {
    if (kind === 'brine-changed') return [{ t: Date.parse(at), kind: 'change', label: '' }];
    if (kind === 'tasted' && typeof body['bitterness'] === 'number') return [{ t: Date.parse(at), kind: 'tasting', label: String(Math.round(body['bitterness'])) }];
    return [];
  });
