import type { Attribution, ComparePair } from '#contract';
import type { UnitChoice } from '../../format/units.ts';
import { daysNumber } from '../../state/compare/group-words.ts';
import { factorNames, isNothing, partWords, unexplainedWords } from '../../state/compare/pair-words.ts';

interface BarsProps {
  readonly pair: ComparePair;
  readonly attribution: Attribution;
  readonly units: UnitChoice;
}

/** The days of the difference, a bar a factor, right of the line where it made the first cure longer; the rest hatched, however large. */
export const AttributionBars = ({ pair: { first, second }, attribution, units }: BarsProps) => {
  const { parts, unexplainedDays } = attribution;
  const most = Math.max(1, ...parts.map(({ days }) => Math.abs(days)), Math.abs(unexplainedDays));
  const low = Math.min(0, ...parts.map(({ days }) => days), unexplainedDays);
  const high = Math.max(0, ...parts.map(({ days }) => days), unexplainedDays);
  // Only as much room left of the line as is needed there.
  const scale = { zero: (-low / Math.max(high - low, most)) * 100, perDay: 100 / Math.max(high - low, most) };
  return (
    <ul class="bars">
      {parts.map(({ factor, days }) => (
        <li key={factor} class={isNothing(days) ? 'nothing dim' : undefined}>
          <b class="bar-name">{factorNames[factor]}</b>
          <b class="bar-days">{signed(days)}</b>
          {!isNothing(days) && <Bar days={days} scale={scale} />}
          <span class="bar-words">{partWords(factor, days, first, second, units)}</span>
        </li>
      ))}
      <li class="unexplained">
        <b class="bar-name">Unexplained</b>
        <b class="bar-days">{signed(unexplainedDays)}</b>
        <Bar days={unexplainedDays} scale={scale} />
        <span class="bar-words">{unexplainedWords(attribution)}</span>
      </li>
    </ul>
  );
};

const signed = (days: number): string => (isNothing(days) ? '0' : `${days > 0 ? '+' : ''}${daysNumber(days)}`);

const Bar = ({ days, scale: { zero, perDay } }: { readonly days: number; readonly scale: { readonly zero: number; readonly perDay: number } }) => {
  const wide = Math.abs(days) * perDay;
  const percent = (value: number): string => `${value.toFixed(3)}%`;
  return (
    <span class="bar" aria-hidden="true">
      <span class="bar-fill" style={{ left: percent(days < 0 ? zero - wide : zero), width: percent(wide) }} />
      <span class="bar-zero" style={{ left: percent(zero) }} />
    </span>
  );
};
