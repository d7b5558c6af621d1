import { useId, useMemo } from 'preact/hooks';
import type { ComparePair } from '#contract';
import type { UnitChoice } from '../../format/units.ts';
import { overlayInWords } from '../../state/compare/overlay-words.ts';
import { useSize } from '../use-size.ts';
import { changePx, drawOverlay, gapPx, overlayHeight, tastingPx, type Course, type Overlay as Drawing } from './overlay-layout.ts';

const textPx = 16;

/** Two cures over one scale of days in the words of the ribbon: temperature, brine changes, tastings. The first is drawn full, the second dashed. */
export const Overlay = ({ pair, units }: { readonly pair: ComparePair; readonly units: UnitChoice }) => {
  const [holder, { width }] = useSize();
  const drawing = useMemo(() => (width > 0 ? drawOverlay(pair, { width, textPx, units }) : null), [pair, width, units]);
  return (
    <figure class="overlay">
      <ul class="overlay-key">
        <li data-course="first">
          <svg viewBox="0 0 40 14" aria-hidden="true" class="ribbon">
            <path d="M1 8H39" class="line" />
          </svg>
          <b>{pair.first.lot}</b>
        </li>
        <li data-course="second">
          <svg viewBox="0 0 40 14" aria-hidden="true" class="ribbon">
            <path d="M1 8H39" class="line second" />
          </svg>
          <b>{pair.second.lot}</b>
        </li>
        <li class="dim">
          <svg viewBox="0 0 40 14" aria-hidden="true" class="ribbon">
            <path d="M20 0V14" class="end" />
          </svg>
          done
        </li>
      </ul>
      <div class="picture ribbon" ref={holder} style={{ height: `${String(overlayHeight)}px` }} role="img" aria-label={overlayInWords(pair, units)}>
        {drawing !== null && (
          <svg width={width} height={overlayHeight} viewBox={`0 0 ${String(width)} ${String(overlayHeight)}`} aria-hidden="true" font-size={textPx}>
            <Drawn drawing={drawing} pair={pair} units={units} />
          </svg>
        )}
      </div>
      <p class="axis-title dim right">days since the start</p>
    </figure>
  );
};

const Drawn = ({ drawing, pair, units }: { readonly drawing: Drawing; readonly pair: ComparePair; readonly units: UnitChoice }) => {
  const id = useId();
  const { left, right, temperature, bitterness, dayTicks, courses } = drawing;
  const wide = right - left;
  return (
    <>
      <defs>
        <pattern id={`${id}-gap`} width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <rect width="6" height="6" class="gap-ground" />
          <rect width="2.4" height="6" class="gap-stroke" />
        </pattern>
      </defs>
      {[temperature, bitterness].map((panel) => (
        <g key={panel.top}>
          <rect x={left} y={panel.top} width={wide} height={panel.bottom - panel.top} rx="5" class="body" />
          {panel.ticks.map(({ y, label }) => (
            <g key={label}>
              <line x1={left} x2={right} y1={y} y2={y} class="rule" />
              <text x={left - 6} y={y} text-anchor="end" class="words">
                {label}
              </text>
            </g>
          ))}
        </g>
      ))}
      <rect x={left} y={bitterness.endPoint} width={wide} height={bitterness.bottom - bitterness.endPoint} class="band" />
      {courses.map((course, place) => (
        <EndLine key={place} course={course} drawing={drawing} second={place === 1} />
      ))}
      {courses.map((course, place) => (
        <CourseLines key={place} course={course} second={place === 1} gapFill={`url(#${id}-gap)`} />
      ))}
      <text x={left + 6} y={temperature.top + textPx * 0.8} class="words plate">
        brine {units.temperature === 'F' ? '°F' : '°C'}
      </text>
      <text x={left} y={temperature.bottom + 64} class="words">
        brine changes, {pair.first.lot} above
      </text>
      <text x={left} y={bitterness.top - 11} class="words">
        bitterness of 10; done at {pair.bitterness} or less
      </text>
      {dayTicks.map(({ x, label }) => (
        <text key={label} x={x} y={drawing.dayTicksY} text-anchor="middle" class="words">
          {label}
        </text>
      ))}
    </>
  );
};

const EndLine = ({ course: { end }, drawing: { temperature, bitterness }, second }: { readonly course: Course; readonly drawing: Drawing; readonly second: boolean }) =>
  end === null ? null : (
    <>
      <line x1={end} x2={end} y1={temperature.top} y2={temperature.bottom} class={second ? 'end second' : 'end'} />
      <line x1={end} x2={end} y1={bitterness.top} y2={bitterness.bottom} class={second ? 'end second' : 'end'} />
    </>
  );

const CourseLines = ({ course, second, gapFill }: { readonly course: Course; readonly second: boolean; readonly gapFill: string }) => (
  <g class={second ? 'course second' : 'course'}>
    {!second && course.envelope.map((path) => <path key={path} d={path} class="envelope" />)}
    {course.line.map((path) => (
      <path key={path} d={path} class={second ? 'line second' : 'line'} />
    ))}
    {course.gaps.map(({ x, width, y }) => (
      <rect key={x} x={x} y={y} width={width} height={gapPx} fill={gapFill} />
    ))}
    {course.changes.map(({ x, y }) => (
      <path key={x} d={`M${String(x)} ${String(y)}l${String(changePx / 2)} ${String(changePx)}h${String(-changePx)}z`} class={second ? 'change second' : 'change'} />
    ))}
    {course.tastingLine !== '' && <path d={course.tastingLine} class={second ? 'tasting-line second' : 'tasting-line'} />}
    {course.tastings.map(({ x, y, score }) => (
      <g key={x} class="tasting">
        <circle cx={x} cy={y} r={tastingPx} {...(second && { 'stroke-dasharray': '3 2.5' })} />
        <text x={x} y={y} font-size={tastingPx * (score.length > 1 ? 1.15 : 1.4)}>
          {score}
        </text>
      </g>
    ))}
  </g>
);
