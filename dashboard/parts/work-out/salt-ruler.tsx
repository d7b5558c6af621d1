import type { SaltRuler as Ruler } from '../../state/work-out/salt-ruler.ts';
import { textWidth } from '../ribbon/axis.ts';
import { useSize } from '../use-size.ts';

const textPx = 16;
const barPx = 14;
const rowPx = 40;
const topPx = 26;
const footPx = 26;

/** Two bars a brine, as poured and where it settles, on one scale: what reaches over the line of the rule is seen at once. */
export const SaltRuler = ({ ruler }: { readonly ruler: Ruler }) => {
  const [holder, { width }] = useSize();
  const { scale, bars, marks, usual, summary } = ruler;
  const height = topPx + bars.length * rowPx + footPx;
  const bottom = height - footPx;
  const x = (percent: number): number => ((percent - scale.from) / (scale.to - scale.from)) * width;
  const inside = (place: number, words: string): number => Math.min(Math.max(place, textWidth(words, textPx) / 2), width - textWidth(words, textPx) / 2);
  return (
    <div class="plot ribbon salt-ruler" ref={holder} role="img" aria-label={summary} style={{ height: `${String(height)}px` }}>
      {width > 0 && (
        <svg width={width} height={height} viewBox={`0 0 ${String(width)} ${String(height)}`} aria-hidden="true" font-size={textPx}>
          <rect x={0} y={topPx} width={width} height={bottom - topPx} class="body" rx="4" />
          <rect x={x(usual.low)} y={topPx} width={x(usual.high) - x(usual.low)} height={bottom - topPx} class="band" />
          {marks.map(({ at, label }, index) => (
            <g key={label}>
              <line x1={x(at)} x2={x(at)} y1={topPx} y2={bottom} class="level" />
              <text x={x(at) + (marks.length > 1 && index === 0 ? -4 : 4)} y={13} class="words strong-words" text-anchor={marks.length > 1 && index === 0 ? 'end' : 'start'}>
                {label}
              </text>
            </g>
          ))}
          {bars.map(({ brine, what, low, high }, index) => {
            const top = topPx + index * rowPx;
            const words = `${brine}, ${what}`;
            return (
              <g key={`${brine}${what}`}>
                <text x={6} y={top + 11} class="words plate">
                  {words}
                </text>
                <rect x={x(low)} y={top + 21} width={Math.max(6, x(high) - x(low))} height={barPx} rx="3" class={what === 'poured' ? 'bar-poured' : 'bar-settles'} />
              </g>
            );
          })}
          {scale.ticks.map(({ at, label }) => (
            <text key={label} x={inside(x(at), label)} y={height - 10} class="words" text-anchor="middle">
              {label}
            </text>
          ))}
        </svg>
      )}
    </div>
  );
};
