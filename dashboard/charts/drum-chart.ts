import { CategoryScale, Chart, Filler, LinearScale, LineController, LineElement, PointElement, type ChartConfiguration, type ChartDataset } from 'chart.js';
import annotation, { type AnnotationOptions } from 'chartjs-plugin-annotation';
import { outsideDots, verticalReach, withGaps, type ChartData, type Dot } from './chart-data.ts';
import { timeTicks } from './time-ticks.ts';

/**
 * The one adapter around Chart.js. It is given numbers, never parses, never animates, and is reused while the view lives.
 * Times are numbers on a linear axis with ticks at the site's own round hours: the library's time axis would use the browser's zone.
 */
export interface DrumChart {
  readonly show: (data: ChartData, colours: ChartColours) => void;
  /** The part of the canvas that holds the plot, in CSS pixels: where a drag means time. */
  readonly plot: () => { readonly left: number; readonly right: number };
  readonly destroy: () => void;
}

export interface ChartColours {
  readonly ink: string;
  readonly dim: string;
  readonly edge: string;
  readonly trace: string;
  readonly band: string;
  readonly red: string;
  readonly row: string;
  readonly gap: string;
  readonly accent: string;
}

Chart.register(LineController, LineElement, PointElement, LinearScale, CategoryScale, Filler, annotation);

const family = "'Atkinson Hyperlegible Next Variable', system-ui, sans-serif";

type Line = ChartDataset<'line', Dot[]>;

const line = (data: readonly Dot[], over: Partial<Line>): Line => ({ data: [...data], pointRadius: 0, pointHitRadius: 0, borderWidth: 0, spanGaps: false, normalized: true, ...over });

/** A lone reading between two gaps has no line; it is drawn as a dot. */
const lonely = (data: readonly Dot[]): number[] => data.map((_, index) => (Number.isNaN(data[index - 1]?.y ?? Number.NaN) && Number.isNaN(data[index + 1]?.y ?? Number.NaN) ? 2.5 : 0));

const datasets = ({ readings, band, convert }: ChartData, colours: ChartColours): Line[] => {
  const low = withGaps(readings, ({ min }) => convert(min));
  const high = withGaps(readings, ({ max }) => convert(max));
  const mean = withGaps(readings, (point) => convert(point.mean));
  const outside = outsideDots(readings, band).map(({ x, y }) => ({ x, y: convert(y) }));
  const veil = `color-mix(in srgb, ${colours.trace} 28%, transparent)`;
  return [
    line(low, { order: 2 }),
    line(high, { order: 2, fill: '-1', backgroundColor: veil }),
    line(mean, { order: 1, borderColor: colours.trace, borderWidth: 2.2, pointRadius: lonely(mean), pointBackgroundColor: colours.trace, pointBorderWidth: 0, borderJoinStyle: 'round' }),
    line(outside, { order: 0, borderColor: colours.red, borderWidth: 5.5, pointRadius: lonely(outside).map((radius) => (radius > 0 ? 3.5 : 0)), pointBackgroundColor: colours.red, pointBorderWidth: 0, borderCapStyle: 'round', borderJoinStyle: 'round' }),
  ];
};

const annotations = ({ readings, band, marks, from, to, now, convert }: ChartData, colours: ChartColours): Record<string, AnnotationOptions> => {
  const drawn: Record<string, AnnotationOptions> = {
    band: {
      type: 'box', drawTime: 'beforeDatasetsDraw', backgroundColor: colours.band, borderWidth: 0,
      ...(band.low !== null && { yMin: convert(band.low) }), ...(band.high !== null && { yMax: convert(band.high) }),
      display: band.low !== null || band.high !== null,
    },
  };
  for (const side of ['low', 'high'] as const) {
    const value = band[side];
    if (value !== null) drawn[side] = { type: 'line', yMin: convert(value), yMax: convert(value), borderColor: colours.dim, borderWidth: 1.2, borderDash: [5, 4], drawTime: 'beforeDatasetsDraw' };
  }
  for (const [index, gap] of readings.gaps.entries()) {
    drawn[`gap${String(index)}`] = {
      type: 'box', drawTime: 'beforeDatasetsDraw', xMin: Math.max(gap.from, from), xMax: Math.min(gap.to, to), backgroundColor: colours.row, borderColor: colours.gap, borderWidth: 1, borderDash: [3, 3],
      label: { display: (gap.to - gap.from) / (to - from) > 0.09, content: 'no readings', color: colours.dim, font: { family, size: 14 } },
    };
  }
  for (const [index, { t, kind, label }] of marks.entries()) {
    if (t < from || t > to) continue;
    const id = `${kind}${String(index)}`;
    drawn[id] = { type: 'line', xMin: t, xMax: t, borderColor: colours.dim, borderWidth: 1, borderDash: kind === 'change' ? [] : [2, 4], drawTime: 'beforeDatasetsDraw' };
    drawn[`${id}mark`] = {
      type: 'label', xValue: t, yValue: ({ chart }: { chart: Chart }) => (kind === 'change' ? chart.scales['y']?.min : chart.scales['y']?.max) ?? 0,
      yAdjust: kind === 'change' ? -9 : 13, content: kind === 'change' ? '▲' : label, color: colours.ink,
      font: { family, size: kind === 'change' ? 13 : 14, weight: 'bold' },
      ...(kind === 'tasting' && { backgroundColor: colours.row, borderColor: colours.ink, borderWidth: 1.5, borderRadius: 12, padding: { x: 6, y: 1 } }),
    };
  }
  if (now > from && now < to) drawn['now'] = { type: 'line', xMin: now, xMax: now, borderColor: colours.accent, borderWidth: 2 };
  return drawn;
};

const configuration = (): ChartConfiguration<'line', Dot[]> => ({
  type: 'line',
  data: { datasets: [] },
  options: {
    animation: false, parsing: false, responsive: true, maintainAspectRatio: false, events: [], devicePixelRatio: Math.max(globalThis.devicePixelRatio, 1),
    plugins: { annotation: { animations: false as never, clip: false, annotations: {} } },
    scales: { x: { type: 'linear', ticks: { maxRotation: 0, autoSkip: false, font: { family, size: 15 } } }, y: { type: 'linear', ticks: { font: { family, size: 15 }, maxTicksLimit: 8, includeBounds: false } } },
  },
});

export const createDrumChart = (canvas: HTMLCanvasElement): DrumChart => {
  const chart = new Chart(canvas, configuration());
  return {
    show: (data, colours) => {
      chart.data.datasets = datasets(data, colours);
      const { plugins, scales } = chart.options;
      if (plugins?.annotation !== undefined) plugins.annotation.annotations = annotations(data, colours);
      const x = scales?.['x'];
      const y = scales?.['y'];
      if (x !== undefined && y !== undefined) {
        const most = Math.max(Math.floor(chart.width / 84), 2);
        Object.assign(x, { min: data.from, max: data.to, border: { color: colours.edge }, grid: { color: colours.edge } });
        x.afterBuildTicks = (axis) => {
          axis.ticks = timeTicks(data.from, data.to, data.zone, most).map(({ value, label }) => ({ value, label }));
        };
        Object.assign(x.ticks ?? {}, { color: colours.dim, callback: (_: unknown, index: number, ticks: readonly { label?: string }[]) => ticks[index]?.label ?? '' });
        Object.assign(y, { ...verticalReach(data), display: data.readings.points.length > 0, border: { color: colours.edge }, grid: { color: colours.edge } });
        Object.assign(y.ticks ?? {}, { color: colours.dim, callback: (value: number) => `${String(Number(value.toFixed(2))).replace('-', '−')} ${data.unit}` });
      }
      chart.update('none');
    },
    plot: () => ({ left: chart.chartArea.left, right: chart.chartArea.right }),
    destroy: () => chart.destroy(),
  };
};
