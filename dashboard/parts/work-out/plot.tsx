import { textWidth } from '../ribbon/axis.ts';
import { smoothLine } from '../ribbon/trace.ts';
import { useSize } from '../use-size.ts';
import type { Plot as PlotData, Point } from '../../state/work-out/picture.ts';

const textPx = 16;
const tickRoom = 24;

/** A curve in the vocabulary of the ribbon: a quiet body, one trace, triangles for changes, dotted violet for what is only likely. */
export const Plot = ({ plot }: { readonly plot: PlotData }) => {
  const [holder, { width, height }] = useSize();
  return (
    <div class={plot.flat === true ? 'plot ribbon flat' : 'plot ribbon'} ref={holder} role="img" aria-label={plot.summary}>
      {width > 0 && height > 0 && (
        <svg width={width} height={height} viewBox={`0 0 ${String(width)} ${String(height)}`} aria-hidden="true" font-size={textPx}>
          <Drawn plot={plot} width={width} height={height} />
        </svg>
      )}
    </div>
  );
};

const Drawn = ({ plot, width, height }: { readonly plot: PlotData; readonly width: number; readonly height: number }) => {
  const { x: across, y: up, lines, band, changes = [], likely = [], limits = [], levels = [], dots = [], here } = plot;
  const left = up.ticks.length === 0 ? 0 : Math.max(...up.ticks.map(({ label }) => textWidth(label, textPx))) + 8;
  const above = [...likely, ...limits];
  const top = above.length > 0 ? 24 : 8;
  const bottom = height - tickRoom - (changes.length > 0 ? 14 : 0);
  const x = (value: number): number => left + ((value - across.from) / (across.to - across.from)) * (width - left);
  const y = (value: number): number => bottom - ((value - up.from) / (up.to - up.from)) * (bottom - top);
  const at = ({ x: px, y: py }: Point): Point => ({ x: x(px), y: y(py) });
  const path = (points: readonly Point[]): string => smoothLine(points.map(at));
  return (
    <>
      <rect x={left} y={top} width={width - left} height={bottom - top} class="body" rx="4" />
      {band !== undefined && <path d={`${path(band.map(({ x: px, high }) => ({ x: px, y: high })))}L${path(band.map(({ x: px, low }) => ({ x: px, y: low })).toReversed()).slice(1)}Z`} class="band" />}
      {levels.map(({ y: level, label }) => (
        <g key={label}>
          <line x1={left} x2={width} y1={y(level)} y2={y(level)} class="level" />
          <text x={left + 6} y={y(level) - 8} class="words">
            {label}
          </text>
        </g>
      ))}
      {lines.map(({ points, tone, label }) => (
        <path key={`${tone}${label ?? ''}`} d={path(points)} class={tone === 'trace' ? 'line' : tone} />
      ))}
      {above.map(({ x: place, label }, index) => (
        <g key={label}>
          <line x1={x(place)} x2={x(place)} y1={top} y2={bottom} class={index < likely.length ? 'median' : 'level'} />
          <text x={aboveX(index, x, above, width)} y={12} class="words strong-words" text-anchor={aboveAnchor(index, x, above, width)}>
            {label}
          </text>
        </g>
      ))}
      {changes.map((change) => (
        <path key={change} d={`M${String(x(change))} ${String(bottom + 3)}l5 9h-10z`} class="change" />
      ))}
      {dots.map((dot, index) => (
        // Two cures may well be alike.
        <circle key={index} cx={x(dot.x)} cy={y(dot.y)} r="5.5" class="ring" />
      ))}
      {here !== undefined && <circle cx={x(here.x)} cy={y(here.y)} r="7" class="here" />}
      {across.ticks.map(({ at: value, label }) => (
        <text key={label} x={inside(x(value), label, left, width)} y={height - 9} class="words" text-anchor="middle">
          {label}
        </text>
      ))}
      {up.ticks.map(({ at: value, label }) => (
        <text key={label} x={left - 6} y={Math.min(Math.max(y(value), 9), bottom)} class="words" text-anchor="end">
          {label}
        </text>
      ))}
      {lines.map(({ points, label }) => {
        const place = points[Math.floor(points.length * 0.06)];
        return label === undefined || place === undefined ? null : <LineWords key={label} label={label} points={points} at={at} width={width} bottom={bottom} />;
      })}
    </>
  );
};

/** Words above their line, a third along it, where a falling line leaves room. */
const LineWords = ({ label, points, at, width, bottom }: { readonly label: string; readonly points: readonly Point[]; readonly at: (point: Point) => Point; readonly width: number; readonly bottom: number }) => {
  const index = label === 'brine' ? points.reduce((best, { y }, one) => (y > (points[best]?.y ?? 0) ? one : best), 0) : Math.floor(points.length * 0.14);
  const point = points[index];
  if (point === undefined) return null;
  const place = at(point);
  return (
    <text x={Math.min(place.x + 10, width - textWidth(label, textPx) - 4)} y={Math.min(label === 'brine' ? place.y - 9 : place.y - 4, bottom - 10)} class="words plate">
      {label}
    </text>
  );
};

const inside = (x: number, label: string, left: number, width: number): number => {
  const half = textWidth(label, textPx) / 2;
  return Math.min(Math.max(x, left + half), width - half);
};

type Above = NonNullable<PlotData['likely']>;

/** Two of them may stand close: the first then ends at its line and the second begins at its own. */
const aboveAnchor = (index: number, x: (value: number) => number, above: Above, width: number): 'start' | 'middle' | 'end' => {
  const [first, second] = above;
  const here = above[index];
  if (here === undefined) return 'middle';
  const room = first === undefined || second === undefined ? Infinity : Math.abs(x(second.x) - x(first.x));
  const needed = (textWidth(first?.label ?? '', textPx, true) + textWidth(second?.label ?? '', textPx, true)) / 2 + 12;
  if (room < needed) return index === 0 ? 'end' : 'start';
  return x(here.x) + textWidth(here.label, textPx, true) / 2 > width ? 'end' : 'middle';
};

const aboveX = (index: number, x: (value: number) => number, above: Above, width: number): number => {
  const here = above[index];
  if (here === undefined) return 0;
  const anchor = aboveAnchor(index, x, above, width);
  const wide = textWidth(here.label, textPx, true);
  const place = x(here.x) + (anchor === 'start' ? 2 : anchor === 'end' ? -2 : 0);
  return anchor === 'start' ? Math.min(place, width - wide) : anchor === 'end' ? Math.max(place, wide) : Math.max(place, wide / 2);
};
