import { useSize } from '../use-size.ts';
import type { Waters as WatersData } from '../../state/work-out/picture.ts';

const textPx = 16;
const room = 26;

/** Salt before and after: brine and flesh side by side, as wide as there is water; the salt is the area, and it stays the same. */
export const Waters = ({ waters }: { readonly waters: WatersData }) => {
  const [holder, { width, height }] = useSize();
  const { brine, flesh, settledPercent, leastPercent, summary } = waters;
  const gap = 34;
  const half = (width - gap) / 2;
  const all = brine.litres + flesh.litres;
  const top = room;
  const bottom = height - room;
  const most = Math.max(brine.percent, leastPercent) * 1.06;
  const y = (percent: number): number => bottom - (percent / most) * (bottom - top);
  const brineWide = (brine.litres / all) * half;
  return (
    <div class="waters plot" ref={holder} role="img" aria-label={summary}>
      {width > 0 && height > 0 && (
        <svg width={width} height={height} viewBox={`0 0 ${String(width)} ${String(height)}`} aria-hidden="true" font-size={textPx}>
          {[0, half + gap].map((x, index) => (
            <g key={x}>
              <rect x={x} y={top} width={half} height={bottom - top} class="body" rx="4" />
              <rect x={x} y={y(index === 0 ? brine.percent : settledPercent)} width={index === 0 ? brineWide : half} height={bottom - y(index === 0 ? brine.percent : settledPercent)} class="salt" />
              <line x1={x + brineWide} x2={x + brineWide} y1={top} y2={bottom} class="wall-of-fruit" />
              <line x1={x} x2={x + half} y1={y(leastPercent)} y2={y(leastPercent)} class="level" />
              <text x={x} y={14} class="words strong-words">
                {index === 0 ? 'poured' : 'settled'}
              </text>
              <text x={x + brineWide / 2} y={height - 9} class="words" text-anchor="middle">
                brine
              </text>
              <text x={x + brineWide + (half - brineWide) / 2} y={height - 9} class="words" text-anchor="middle">
                fruit
              </text>
            </g>
          ))}
          <path d={`M${String(half + 8)} ${String((top + bottom) / 2)}h${String(gap - 20)}m-6 -6l6 6l-6 6`} class="arrow" />
          <text x={width} y={14} class="words" text-anchor="end">
            line: {leastPercent} %
          </text>
        </svg>
      )}
    </div>
  );
};
