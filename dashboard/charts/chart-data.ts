import type { Readings } from '#contract';

/** What the chart is told to draw, as plain numbers: gaps are gaps, and what is outside a limit is a line of its own. */
export interface ChartMark {
  readonly t: number;
  readonly kind: 'change' | 'tasting';
  readonly label: string;
}

export interface ChartBand {
  readonly low: number | null;
  readonly high: number | null;
}

export interface ChartData {
  readonly from: number;
  readonly to: number;
  readonly now: number;
  readonly zone: string;
  readonly readings: Readings;
  readonly band: ChartBand;
  readonly marks: readonly ChartMark[];
  /** From the metric value of the API to what the reader prefers. */
  readonly convert: (value: number) => number;
  readonly unit: string;
}

export interface Dot {
  readonly x: number;
  readonly y: number;
}

/** A hole wherever the readings have one: the line must not suggest what nobody measured. */
export const withGaps = (readings: Readings, pick: (point: Readings['points'][number]) => number): readonly Dot[] => {
  const dots: Dot[] = [];
  let gap = 0;
  for (const point of readings.points) {
    let open = readings.gaps[gap];
    while (open !== undefined && open.to <= point.t) {
      if (dots.length > 0) dots.push({ x: open.from, y: Number.NaN });
      gap += 1;
      open = readings.gaps[gap];
    }
    dots.push({ x: point.t, y: pick(point) });
  }
  return dots;
};

/** Only the stretches beyond the limit, each point at the extreme that broke it; holes between them. */
export const outsideDots = (readings: Readings, { low, high }: ChartBand): readonly Dot[] => {
  const beyond = (point: Readings['points'][number]): number =>
    high !== null && point.max > high ? point.max : low !== null && point.min < low ? point.min : Number.NaN;
  return withGaps(readings, beyond);
};

export interface Spread {
  readonly lowest: number;
  readonly highest: number;
  readonly mean: number;
  readonly count: number;
}

/** The stretch in three numbers, for the words under the chart; null when nothing was measured. */
export const spreadOf = (readings: Readings): Spread | null => {
  if (readings.points.length === 0) return null;
  let lowest = Infinity;
  let highest = -Infinity;
  let sum = 0;
  let count = 0;
  for (const point of readings.points) {
    lowest = Math.min(lowest, point.min);
    highest = Math.max(highest, point.max);
    sum += point.mean * point.count;
    count += point.count;
  }
  return { lowest, highest, mean: sum / count, count };
};

/** The stretch of values shown: the readings, and each limit that lies near enough to matter to them. */
export const verticalReach = ({ readings, band, convert }: Pick<ChartData, 'readings' | 'band' | 'convert'>): { readonly min: number; readonly max: number } => {
  const spread = spreadOf(readings);
  const limits = [band.low, band.high].filter((limit) => limit !== null);
  let [least, most] = spread === null ? [Math.min(...limits), Math.max(...limits)] : [spread.lowest, spread.highest];
  if (!Number.isFinite(least) || !Number.isFinite(most)) return { min: 0, max: 1 };
  const near = Math.max((most - least) * 1.2, 3);
  const [lowest, highest] = [least, most];
  for (const limit of limits) {
    if (lowest - limit <= near) least = Math.min(least, limit);
    if (limit - highest <= near) most = Math.max(most, limit);
  }
  const [from, to] = [convert(least), convert(most)];
  const spare = Math.max((to - from) * 0.16, 0.3);
  return { min: from - spare, max: to + spare };
};
