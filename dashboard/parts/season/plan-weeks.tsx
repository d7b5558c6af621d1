import { useId } from 'preact/hooks';
import type { SeasonPlan } from '#contract';
import { drumSentence } from '../../state/season/season-words.ts';
import { weeksPicture } from '../../state/season/weeks-picture.ts';
import { useSize } from '../use-size.ts';

const room = { height: 250, left: 34, foot: 34, head: 14 };

/** Drums in use over the weeks: the middle season, and where four seasons of five lie. */
export const PlanWeeks = ({ plan }: { readonly plan: SeasonPlan }) => {
  const [ref, { width }] = useSize();
  const id = useId();
  const { band, middle, haveY, rows, marks, over } = weeksPicture(plan.weeks, plan.input.drums, { ...room, width: Math.max(room.left, width - 4) });
  return (
    <figure class="plan-weeks">
      <figcaption>Drums in use, week by week from the first pick</figcaption>
      <div class="weeks-room" ref={ref} style={{ height: `${String(room.height)}px` }}>
        {width > 0 && (
          <svg role="img" aria-labelledby={id} width={width} height={room.height}>
            <title id={id}>{drumSentence(plan)}</title>
            <defs>
              <pattern id={`${id}-over`} width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
                <rect class="over-line" width="3" height="8" />
              </pattern>
            </defs>
            {rows.map(({ drums, y }) => (
              <g key={drums}>
                <line class="rule" x1={room.left} x2={width} y1={y} y2={y} />
                <text x={room.left - 8} y={y + 6} text-anchor="end">
                  {drums}
                </text>
              </g>
            ))}
            <path class="weeks-band" d={band} />
            <path d={over} fill={`url(#${id}-over)`} />
            <path class="weeks-middle" d={middle} />
            <line class="weeks-have" x1={room.left} x2={width} y1={haveY} y2={haveY} />
            {marks.map(({ week, x }) => (
              <g key={week}>
                <line class="tick" x1={x} x2={x} y1={room.height - room.foot} y2={room.height - room.foot + 6} />
                <text x={x + 2} y={room.height - 8}>
                  {week === 1 ? 'week 1' : week}
                </text>
              </g>
            ))}
          </svg>
        )}
      </div>
      <ul class="weeks-key">
        <li>
          <span class="swatch middle" aria-hidden="true" /> the middle season
        </li>
        <li>
          <span class="swatch band" aria-hidden="true" /> eight seasons of ten
        </li>
        <li>
          <span class="swatch have" aria-hidden="true" /> the drums you have
        </li>
        {over !== '' && (
          <li>
            <span class="swatch over" aria-hidden="true" /> more than you have
          </li>
        )}
      </ul>
    </figure>
  );
};
