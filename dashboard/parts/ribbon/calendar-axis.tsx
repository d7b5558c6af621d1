import { useSize } from '../use-size.ts';
import { textWidth, ticksOn, xOn, type Axis } from './axis.ts';
import './calendar-axis.css';

/** The one calendar of the wall, with the mark of today. */
export const CalendarAxis = ({ span, now, zone, textPx }: { readonly span: Omit<Axis, 'width'>; readonly now: number; readonly zone: string; readonly textPx: number }) => {
  const [holder, { width }] = useSize();
  const axis = { ...span, width };
  const nowX = xOn(axis, now);
  const half = textWidth('today', textPx, true) / 2 + textPx * 0.7;
  const height = textPx * 2;
  return (
    <div class="calendar" aria-hidden="true">
      <div class="calendar-strip" ref={holder} style={{ height: `${String(height)}px` }}>
        {width > 0 && (
          <svg width={width} height={height} font-size={textPx}>
            {ticksOn(axis, { zone, textPx, today: { from: nowX - half, to: nowX + half } }).map(({ t, x, label }) => (
              <g key={t}>
                <line x1={x} x2={x} y1={height - textPx * 0.45} y2={height} class="tick" />
                {label !== '' && (
                  <text x={x} y={textPx * 0.8}>
                    {label}
                  </text>
                )}
              </g>
            ))}
            <line x1={nowX} x2={nowX} y1={textPx} y2={height} class="now" />
            <rect x={nowX - half} y={0} width={half * 2} height={textPx * 1.5} rx="4" class="today" />
            <text x={nowX} y={textPx * 0.8} class="today-word">
              today
            </text>
          </svg>
        )}
      </div>
    </div>
  );
};
