import { dayMonth } from '../../format/time.ts';
import { checkPicture, pointsOf, seriesWords, type CheckSeries } from '../../state/inspection-words.ts';
import type { CalibrationCheck } from '#contract';

const [width, height, edge] = [300, 100, 10];

/** One number of an instrument over its checks, on the band it should keep; the numbers stand in the table below. */
export const CheckChart = ({ checks, series, zone }: { readonly checks: readonly CalibrationCheck[]; readonly series: CheckSeries; readonly zone: string }) => {
  const points = pointsOf(checks, series);
  if (points.length === 0) return null;
  const { title, unit, low, high } = seriesWords[series];
  const { dots, bandTop, bandBottom } = checkPicture(points, { low, high });
  const at = ({ x, y }: { readonly x: number; readonly y: number }) => ({ cx: edge + x * (width - 2 * edge), cy: y * height });
  const last = points.at(-1);
  return (
    <figure class="check-chart">
      <figcaption>
        <b>
          {title} {last?.value} {unit}
        </b>
        <span class="dim">
          {low} to {high} {unit}
        </span>
      </figcaption>
      <svg viewBox={`0 0 ${String(width)} ${String(height)}`} role="img" aria-label={`${title} over ${String(points.length)} checks, band ${String(low)} to ${String(high)} ${unit}`}>
        <rect class="band" x="0" width={width} y={bandTop * height} height={(bandBottom - bandTop) * height} />
        <polyline class="line" points={dots.map((dot) => `${String(at(dot).cx)},${String(at(dot).cy)}`).join(' ')} />
        {dots.map((dot, index) => (
          <circle key={index} class={dot.failed ? 'dot-failed' : 'dot'} {...at(dot)} r={dot.failed ? 6 : 4} />
        ))}
      </svg>
      <p class="dim">
        {points.length === 1 ? dayMonth(last?.t ?? 0, zone) : `${dayMonth(points[0]?.t ?? 0, zone)} to ${dayMonth(last?.t ?? 0, zone)}, ${String(points.length)} checks`}
      </p>
    </figure>
  );
};
