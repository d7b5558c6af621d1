import type { NowValue } from '#contract';

/**
 * How a value may be shown. Only a good value is current. An old or doubtful one is grey with a word; one that is no measurement at all
 * (the sensor says it is broken) is not shown as a number.
 */
export type Shown =
  | { readonly kind: 'current'; readonly value: number; readonly at: number }
  | { readonly kind: 'grey'; readonly value: number | null; readonly at: number; readonly word: string }
  | { readonly kind: 'absent'; readonly word: string };

type Measured = Extract<NowValue, { readonly value: number }>;

export const isMeasured = (value: NowValue): value is Measured => 'value' in value;

const noNumber: ReadonlySet<string> = new Set(['power-on', 'disconnected', 'blank-scratchpad']);

const words: Readonly<Record<string, string>> = {
  stale: 'not current',
  'power-on': 'probe restarting',
  disconnected: 'sensor disconnected',
  'blank-scratchpad': 'sensor answers nothing',
  'out-of-range': 'not plausible',
  stuck: 'stuck',
  uncalibrated: 'not calibrated',
  'clock-doubtful': 'probe clock doubtful',
};

export const qualityWord = (quality: string): string => words[quality] ?? quality.replaceAll('-', ' ');

export const shown = (value: NowValue): Shown => {
  if (!isMeasured(value)) return { kind: 'absent', word: value.absent === 'no-probe' ? 'no probe here' : 'no reading yet' };
  const at = Date.parse(value.at);
  if (value.quality === 'good') return { kind: 'current', value: value.value, at };
  return { kind: 'grey', value: noNumber.has(value.quality) ? null : value.value, at, word: qualityWord(value.quality) };
};

/** Steps of a trend that can be told apart at a glance, °C per hour. Below the first a drum's daily swing already explains it (assumption). */
export const trendStep = (perHour: number | null): 'falling fast' | 'falling' | 'steady' | 'rising' | 'rising fast' | null => {
  if (perHour === null) return null;
  const size = Math.abs(perHour);
  if (size < 0.05) return 'steady';
  if (perHour > 0) return size < 0.5 ? 'rising' : 'rising fast';
  return size < 0.5 ? 'falling' : 'falling fast';
};
