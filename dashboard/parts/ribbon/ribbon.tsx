import { useId, useMemo } from 'preact/hooks';
import type { Ribbon as RibbonData } from '#contract';
import { useSize } from '../use-size.ts';
import type { Axis } from './axis.ts';
import { drawRibbon, type Drawing } from './layout.ts';
import { ribbonInWords } from './summary.ts';
import './ribbon.css';

/** The cure ribbon: the whole cure as one picture on the calendar that all drums share. */
export interface RibbonProps {
  readonly ribbon: RibbonData;
  readonly span: Omit<Axis, 'width'>;
  readonly now: number;
  readonly zone: string;
  readonly textPx: number;
  readonly words?: boolean;
}

export const Ribbon = ({ ribbon, span, now, zone, textPx, words = true }: RibbonProps) => {
  const [holder, size] = useSize();
  const { from, to } = span;
  // Drawn anew when something in the picture changes, not with every reading of the row.
  const drawing = useMemo(
    () => (size.width > 0 && size.height > 0 ? drawRibbon(ribbon, { axis: { from, to, width: size.width }, height: size.height, now, zone, textPx, words }) : null),
    [ribbon, from, to, size, now, zone, textPx, words],
  );
  return (
    <div class="ribbon" ref={holder} role="img" aria-label={ribbonInWords(ribbon, zone)}>
      {drawing !== null && (
        <svg width={size.width} height={size.height} viewBox={`0 0 ${String(size.width)} ${String(size.height)}`} aria-hidden="true">
          <Picture drawing={drawing} height={size.height} textPx={textPx} reach={words ? 40 : 0} />
        </svg>
      )}
    </div>
  );
};

const Picture = ({ drawing, height, textPx, reach }: { readonly drawing: Drawing; readonly height: number; readonly textPx: number; readonly reach: number }) => {
  const id = useId();
  const { body, band, haze, rest, ready, ring } = drawing;
  const gapFill = `url(#${id}-gap)`;
  return (
    <>
      <defs>
        <pattern id={`${id}-gap`} width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <rect width="6" height="6" class="gap-ground" />
          <rect width="2.4" height="6" class="gap-stroke" />
        </pattern>
        <clipPath id={`${id}-body`}>
          <rect {...body} rx="5" />
        </clipPath>
        {haze !== null && (
          <linearGradient id={`${id}-haze`} gradientUnits="userSpaceOnUse" x1={haze.from} x2={Math.max(haze.to, haze.from + 1)} y1="0" y2="0">
            {hazeStops(haze).map(({ offset, opacity }) => (
              <stop key={offset} offset={offset} class="haze" stop-opacity={opacity} />
            ))}
          </linearGradient>
        )}
      </defs>
      <rect {...body} rx="5" class="body" />
      <g clip-path={`url(#${id}-body)`}>
        {band !== null && <rect {...band} class="band" />}
        {drawing.gaps.map((gap) => (
          <rect key={gap.x} {...gap} fill={gapFill} />
        ))}
        {rest !== null && <rect {...rest} class="rest" />}
        {ready !== null && <rect {...ready} class="ready" />}
        {haze !== null && <rect class="haze-area" x={haze.from} y={body.y} width={Math.max(haze.to - haze.from, 2)} height={body.height} fill={`url(#${id}-haze)`} />}
        {drawing.envelope.map((path) => (
          <path key={path} d={path} class="envelope" />
        ))}
        {drawing.line.map((path) => (
          <path key={path} d={path} class="line" />
        ))}
      </g>
      {drawing.outside.map((path) => (
        <path key={path} d={path} class="outside" />
      ))}
      {haze !== null && haze.likely <= body.x + body.width && <line x1={haze.likely} x2={haze.likely} y1={body.y} y2={body.y + body.height} class="median" />}
      {drawing.changes.map(({ x, y }) => (
        <path key={x} d={`M${String(x)} ${String(y)}l${String(drawing.changeSize / 2)} ${String(drawing.changeSize)}h${String(-drawing.changeSize)}z`} class="change" />
      ))}
      <line x1={drawing.now} x2={drawing.now} y1={-reach} y2={height + reach} class="now" />
      {drawing.tastingDots.map((x) => (
        <circle key={x} cx={x} cy={body.y} r="2.5" class="tasting-dot" />
      ))}
      {drawing.tastings.map(({ x, wanted, score, sequence }) => (
        <g key={sequence} class="tasting">
          {Math.abs(wanted - x) > ring && <line x1={x} x2={wanted} y1={body.y + ring} y2={body.y + ring + 6} />}
          <circle cx={x} cy={body.y} r={ring} />
          <text x={x} y={body.y} font-size={ring * (score.length > 1 ? 1.15 : 1.4)}>
            {score}
          </text>
        </g>
      ))}
      {drawing.words.map((words) => {
        const line = textPx * 1.22;
        const two = words.strong !== '' && words.plain !== '';
        return (
          <text key={words.strong + words.plain} class={words.plate ? 'words plate' : 'words'} text-anchor={words.anchor} font-size={textPx}>
            {words.strong !== '' && (
              <tspan x={words.x} y={words.y - (two ? line / 2 : 0)} class="strong">
                {words.strong}
              </tspan>
            )}
            {words.plain !== '' && (
              <tspan x={words.x} y={words.y + (two ? line / 2 : 0)}>
                {words.plain}
              </tspan>
            )}
          </text>
        );
      })}
    </>
  );
};

/** Depth is likelihood: two half bells that meet at the likely day and are almost gone at the ends of the range. */
const hazeStops = ({ from, likely, to }: NonNullable<Drawing['haze']>): readonly { readonly offset: number; readonly opacity: number }[] => {
  const middle = to > from ? (likely - from) / (to - from) : 0.5;
  const bell = (z: number): number => Math.exp(-0.5 * (z * 1.64) ** 2);
  const steps = [0, 0.25, 0.5, 0.75, 1];
  return [
    ...steps.map((step) => ({ offset: middle * step, opacity: 0.78 * bell(1 - step) })),
    ...steps.slice(1).map((step) => ({ offset: middle + (1 - middle) * step, opacity: 0.78 * bell(step) })),
  ];
};
