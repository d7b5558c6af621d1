import { useMemo } from 'preact/hooks';
import type { DrumHeat, HeatPlan } from '#contract';
import type { UnitChoice } from '../../format/units.ts';
import { drawHeat } from '../../state/heat/heat-picture.ts';
import { useSize } from '../use-size.ts';

interface HeatPictureProps {
  readonly heat: DrumHeat;
  readonly air: HeatPlan['air'];
  readonly now: number;
  readonly zone: string;
  readonly units: UnitChoice;
}

const textPx = 16;

/** The last day, the next two with their band, the limit and where it is crossed. */
export const HeatPicture = ({ heat, air, now, zone, units }: HeatPictureProps) => {
  const [holder, { width, height }] = useSize();
  const drawing = useMemo(() => (width > 0 && height > 0 ? drawHeat(heat, air, now, { width, height, textPx, units, zone }) : null), [heat, air, now, width, height, units, zone]);
  return (
    <div class="heat-picture ribbon" ref={holder} role="img" aria-label={`${heat.name}: the last 24 hours and the next 48. ${heat.text} The numbers stand in the table below.`}>
      {drawing !== null && (
        <svg width={width} height={height} viewBox={`0 0 ${String(width)} ${String(height)}`} aria-hidden="true" font-size={textPx}>
          <rect x={drawing.plot.left} y={drawing.plot.top} width={drawing.plot.right - drawing.plot.left} height={drawing.plot.bottom - drawing.plot.top} rx="5" class="body" />
          {drawing.days.map(({ x, label }) => (
            <g key={x}>
              <line x1={x} x2={x} y1={drawing.plot.top} y2={drawing.plot.bottom} class="midnight" />
              <text x={x + 6} y={drawing.plot.bottom + textPx} class="words">
                {label}
              </text>
            </g>
          ))}
          {drawing.hours.map(({ x, label }) => (
            <text key={x} x={x} y={drawing.plot.bottom + textPx} text-anchor="middle" class="words hour">
              {label}
            </text>
          ))}
          {drawing.band !== '' && <path d={drawing.band} class="foretold" />}
          <path d={drawing.airPast} class="air" />
          <path d={drawing.airAhead} class="air ahead" />
          {drawing.limits.map(({ y, label, danger }) => (
            <g key={label} class={danger ? 'limit danger' : 'limit'}>
              <line x1={drawing.plot.left} x2={drawing.plot.right} y1={y} y2={y} />
              <text x={drawing.plot.right + 8} y={y} class="words strong">
                {label}
              </text>
            </g>
          ))}
          <path d={drawing.past} class="line" />
          <path d={drawing.ahead} class="line ahead" />
          <line x1={drawing.nowX} x2={drawing.nowX} y1={drawing.plot.top} y2={drawing.plot.bottom} class="now" />
          <text x={drawing.nowX - 6} y={drawing.plot.bottom - textPx * 0.7} text-anchor="end" class="words">
            now
          </text>
          {drawing.crossing !== null && (
            <g class="crossing">
              <path d={`M${String(drawing.crossing.from)} ${String(drawing.crossing.y)}H${String(drawing.crossing.to)}M${String(drawing.crossing.from)} ${String(drawing.crossing.y - 7)}v14M${String(drawing.crossing.to)} ${String(drawing.crossing.y - 7)}v14`} />
              <circle cx={drawing.crossing.x} cy={drawing.crossing.y} r="8" />
            </g>
          )}
        </svg>
      )}
    </div>
  );
};

/** Said once, above the first picture. */
export const HeatKey = () => (
  <ul class="heat-key dim" aria-label="What the lines mean">
    <li>
      <svg viewBox="0 0 30 16" aria-hidden="true" class="ribbon"><path d="M2 11Q10 2 28 8" class="line" /></svg>
      brine as measured
    </li>
    <li>
      <svg viewBox="0 0 30 16" aria-hidden="true" class="ribbon"><rect width="30" height="16" class="foretold" /><path d="M2 10Q14 3 28 7" class="line ahead" /></svg>
      foretold; the band holds it four times out of five
    </li>
    <li>
      <svg viewBox="0 0 30 16" aria-hidden="true" class="ribbon"><path d="M2 12Q10 0 28 9" class="air" /></svg>
      air of the shed
    </li>
    <li>
      <svg viewBox="0 0 30 16" aria-hidden="true" class="ribbon"><g class="crossing"><path d="M3 8H27M3 3v10M27 3v10" /><circle cx="15" cy="8" r="5" /></g></svg>
      where a limit is passed, and the spread
    </li>
  </ul>
);
