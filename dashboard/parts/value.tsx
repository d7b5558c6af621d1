import type { NowValue } from '#contract';
import { ago } from '../format/age.ts';
import { pastMoment } from '../format/time.ts';
import { showTemperature, showTemperatureStep, type UnitChoice } from '../format/units.ts';
import { isMeasured, shown, trendStep } from '../state/value.ts';
import './value.css';

interface ValueProps {
  readonly value: NowValue;
  readonly now: number;
  readonly zone: string;
  readonly units: UnitChoice;
}

const turns = { 'rising fast': -68, rising: -38, steady: 0, falling: 38, 'falling fast': 68 } as const;

/** Which way it goes, as an arrow and in words. */
export const Trend = ({ perHour, units }: { readonly perHour: number | null; readonly units: UnitChoice }) => {
  const step = trendStep(perHour);
  if (step === null || perHour === null) return null;
  const { text, unit } = showTemperatureStep(Math.abs(perHour), units);
  const words = step === 'steady' ? 'steady' : `${step}, ${text} ${unit} an hour`;
  return (
    <svg class="trend" viewBox="0 0 24 24" role="img" aria-label={words}>
      <title>{words}</title>
      <path d="M3 12h17M13.5 5.5 20 12l-6.5 6.5" transform={`rotate(${String(turns[step])} 12 12)`} />
    </svg>
  );
};

/** The headline temperature: large when current, grey when not, a dash when it is no number. */
export const BigTemperature = ({ value, units, emptied }: Omit<ValueProps, 'now' | 'zone'> & { readonly emptied: boolean }) => {
  const seen = shown(value);
  if (emptied || seen.kind === 'absent' || seen.value === null) {
    return (
      <p class="big old">
        <span aria-hidden="true">–</span>
        <span class="hidden-words">no temperature</span>
      </p>
    );
  }
  const { text, unit } = showTemperature(seen.value, units);
  return (
    <p class={seen.kind === 'grey' ? 'big old' : 'big'}>
      <span class="digits">{text}</span>
      <span class="unit">{unit}</span>
      {seen.kind === 'current' && isMeasured(value) && <Trend perHour={value.trendPerHour} units={units} />}
    </p>
  );
};

/** How old it is, or since when it is not current, and why. */
export const ageWords = (value: NowValue, now: number, zone: string, live = true): string => {
  const seen = shown(value);
  if (seen.kind === 'absent') return seen.word;
  if (isMeasured(value) && value.source === 'person') return seen.kind === 'current' ? `by hand, ${live ? ago(now - seen.at) : `at ${pastMoment(seen.at, now, zone)}`}` : `not measured since ${pastMoment(seen.at, now, zone)}`;
  if (seen.kind === 'current') return live ? ago(now - seen.at) : `at ${pastMoment(seen.at, now, zone)}, not live`;
  return seen.value === null ? `${seen.word} since ${pastMoment(seen.at, now, zone)}` : `at ${pastMoment(seen.at, now, zone)}, ${seen.word}`;
};

/** pH with its uncertainty; its age only when that is hours or days, as with a hand measurement. */
export const phWords = (value: NowValue, now: number): string | null => {
  const seen = shown(value);
  if (seen.kind === 'absent' || seen.value === null || !isMeasured(value)) return null;
  const ageMs = now - seen.at;
  const old = ageMs < 2 * 3_600_000 ? '' : ageMs < 48 * 3_600_000 ? `, ${String(Math.round(ageMs / 3_600_000))} h ago` : `, ${String(Math.round(ageMs / 86_400_000))} days ago`;
  return `pH ${seen.value.toFixed(1)} ± ${value.uncertainty.toFixed(1)}${seen.kind === 'grey' && seen.word !== 'not current' ? ` (${seen.word})` : old}`;
};
