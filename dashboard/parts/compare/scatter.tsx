import { useId, useMemo } from 'preact/hooks';
import type { CompareGroup } from '#contract';
import type { UnitChoice } from '../../format/units.ts';
import { groupWords, kindWords } from '../../state/compare/group-words.ts';
import { useSize } from '../use-size.ts';
import { drawScatter, ringPx, type Scatter as Drawing } from './scatter-layout.ts';

const textPx = 16;

/** Days against temperature: a ring a cure, the line through them with its band, dashed where no cure reaches. */
export const Scatter = ({ group, units }: { readonly group: CompareGroup; readonly units: UnitChoice }) => {
  const [holder, { width, height }] = useSize();
  const drawing = useMemo(() => (width > 0 && height > 0 ? drawScatter(group, { width, height, textPx, units }) : null), [group, width, height, units]);
  return (
    <figure class={group.interval === null ? 'scatter few' : 'scatter'}>
      <p class="axis-title dim">days until tasted sweet enough</p>
      <div class="picture ribbon" ref={holder} role="img" aria-label={scatterInWords(group, units)}>
        {drawing !== null && (
          <svg width={width} height={height} viewBox={`0 0 ${String(width)} ${String(height)}`} aria-hidden="true" font-size={textPx}>
            <Drawn drawing={drawing} />
          </svg>
        )}
      </div>
      <p class="axis-title dim right">mean temperature of the cure, {units.temperature === 'F' ? '°F' : '°C'}</p>
      <ScatterKey group={group} />
    </figure>
  );
};

const Drawn = ({ drawing }: { readonly drawing: Drawing }) => {
  const id = useId();
  const { plot } = drawing;
  return (
    <>
      <defs>
        <clipPath id={`${id}-plot`}>
          <rect x={plot.left} y={plot.top} width={plot.right - plot.left} height={plot.bottom - plot.top} rx="5" />
        </clipPath>
      </defs>
      <rect x={plot.left} y={plot.top} width={plot.right - plot.left} height={plot.bottom - plot.top} rx="5" class="body" />
      <g clip-path={`url(#${id}-plot)`}>
        {drawing.beyond.map(({ band, from }) => (
          <path key={from} d={band} class="band-beyond" />
        ))}
        {drawing.band !== '' && <path d={drawing.band} class="band" />}
        {drawing.yTicks.map(({ y, label }) => (
          <line key={label} x1={plot.left} x2={plot.right} y1={y} y2={y} class="rule" />
        ))}
        {drawing.beyond.map(({ line, from }) => (
          <path key={from} d={line} class="line beyond" />
        ))}
        {drawing.shrunken !== '' && <path d={drawing.shrunken} class="shrunken" />}
        {drawing.line !== '' && <path d={drawing.line} class="line" />}
        {drawing.beyond.map(({ from, to }) => (
          <BeyondWords key={from} from={from} to={to} plot={plot} />
        ))}
      </g>
      {drawing.points.map(({ lot, x, y, latest, earliest, label }) => (
        <g key={lot} class="cure-point">
          {earliest !== null && <path d={`M${String(x)} ${String(earliest)}V${String(latest)}M${String(x - 5)} ${String(earliest)}h10M${String(x - 5)} ${String(latest)}h10`} class="whisker" />}
          {earliest === null && <path d={`M${String(x)} ${String(y)}v${String(ringPx * 3)}m-4 -5l4 5l4 -5`} class="whisker" />}
          <circle cx={x} cy={y} r={ringPx} />
          {label !== null && (
            <text x={label.x} y={label.y} text-anchor={label.anchor} class="words plate">
              {lot}
            </text>
          )}
        </g>
      ))}
      {drawing.xTicks.map(({ x, label }) => (
        <text key={label} x={x} y={plot.bottom + textPx} text-anchor="middle" class="words">
          {label}
        </text>
      ))}
      {drawing.yTicks.map(({ y, label }) => (
        <text key={label} x={plot.left - 6} y={Math.min(y, plot.bottom - 2)} text-anchor="end" class="words">
          {label}
        </text>
      ))}
    </>
  );
};

/** Written up the strip where no cure reaches: it is narrow. */
const BeyondWords = ({ from, to, plot }: { readonly from: number; readonly to: number; readonly plot: Drawing['plot'] }) => {
  const x = (from + to) / 2;
  const y = plot.bottom - 8;
  return to - from < textPx ? null : (
    <text x={x} y={y} transform={`rotate(-90 ${String(x)} ${String(y)})`} class="words plate">
      no cure here
    </text>
  );
};

/** Only what the picture shows is explained under it. */
const ScatterKey = ({ group: { cures, fit, interval } }: { readonly group: CompareGroup }) => {
  const hasLine = interval !== null;
  const once = cures.some(({ bitterDays }) => bitterDays === null);
  const between = cures.some(({ bitterDays }) => bitterDays !== null);
  const shrinks = fit !== null && fit.method === 'fitted' && Math.abs(fit.shrunkenKjPerMol - fit.activationEnergyKjPerMol) >= 1;
  return (
    <ul class="scatter-key dim">
      <li>
        <svg viewBox="0 0 24 16" aria-hidden="true" class="ribbon">
          <g class="cure-point">
            {between && <path d="M12 1v14M8 1h8M8 15h8" class="whisker" />}
            <circle cx="12" cy="8" r="4.500" />
          </g>
        </svg>
        {between ? 'a cure: it turned somewhere between two tastings' : 'a cure'}
      </li>
      {once && (
        <li>
          <svg viewBox="0 0 24 16" aria-hidden="true" class="ribbon">
            <g class="cure-point">
              <path d="M12 5v10m-4 -4l4 4l4 -4" class="whisker" />
              <circle cx="12" cy="5" r="4.500" />
            </g>
          </svg>
          sweet at its first tasting: it may have turned earlier
        </li>
      )}
      {hasLine && (
        <li>
          <svg viewBox="0 0 24 16" aria-hidden="true" class="ribbon">
            <rect width="24" height="16" class="band" />
            <path d="M0 5Q12 6 24 11" class="line" />
          </svg>
          {fit?.method === 'energy-assumed' ? 'line with an assumed slope, and' : 'the line through them, and'} where 19 of 20 further cures should fall
        </li>
      )}
      {hasLine && (
        <li>
          <svg viewBox="0 0 24 16" aria-hidden="true" class="ribbon">
            <path d="M0 5Q12 6 24 11" class="line beyond" />
          </svg>
          carried on to where you have no cure
        </li>
      )}
      {shrinks && (
        <li>
          <svg viewBox="0 0 24 16" aria-hidden="true" class="ribbon">
            <path d="M0 7Q12 7 24 10" class="shrunken" />
          </svg>
          with so few cures, more believable: pulled towards the usual slope
        </li>
      )}
    </ul>
  );
};

const scatterInWords = (group: CompareGroup, units: UnitChoice): string => {
  const { strong, plain } = groupWords(group, units);
  return `Days against temperature, ${kindWords(group)}. ${strong} ${plain} The numbers stand in the table below.`.replaceAll('  ', ' ');
};
