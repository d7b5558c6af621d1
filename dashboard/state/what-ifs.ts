import { dayMs, type Ribbon, type WhatIfAnswer } from '#contract';
import { daySpan } from '../format/time.ts';
import type { UnitChoice } from '../format/units.ts';

/** One thing that may turn out otherwise, with the range it leads to. */
export type WhatIf = WhatIfAnswer['whatIfs'][number];

/** Degrees as the person reads them: a difference has no 32 in it. */
export const whatIfTitle = ({ title, warmerC }: WhatIf, units: UnitChoice): string =>
  units.temperature === 'F' && warmerC !== 0 ? title.replace(`${String(Math.abs(warmerC))} °C`, `${String(Math.round(Math.abs(warmerC) * 18) / 10)} °F`) : title;

/** `4 – 9 Jan, about 3 days sooner` */
export const whatIfRange = ({ forecast, laterDays }: Pick<WhatIf, 'forecast' | 'laterDays'>, zone: string): string => {
  if ('unknown' in forecast) return forecast.unknown;
  const range = daySpan(Date.parse(forecast.readyFrom), Date.parse(forecast.readyTo), zone);
  return laterDays === null ? range : `${range}, ${laterWords(laterDays)}`;
};

const laterWords = (days: number): string => {
  const size = Math.abs(days);
  if (size < 0.35) return 'hardly any difference';
  const words = size < 0.75 ? 'half a day' : size < 1.5 ? 'a day' : `${String(Math.round(size))} days`;
  return `about ${words} ${days < 0 ? 'sooner' : 'later'}`;
};

const ends = (forecast: WhatIf['forecast']): readonly number[] => ('unknown' in forecast ? [] : [Date.parse(forecast.readyTo)]);

/** From the start of the cure to the far end of everything shown, but never so far that the cure itself is squeezed flat. */
export const outlookSpan = (ribbon: Pick<Ribbon, 'from' | 'to'>, shown: readonly Pick<WhatIf, 'forecast'>[], now: number): { readonly from: number; readonly to: number } => {
  const furthest = now + Math.max(60 * dayMs, 1.6 * (now - ribbon.from));
  const end = Math.max(now + 7 * dayMs, Math.min(furthest, Math.max(ribbon.to, ...shown.flatMap(({ forecast }) => ends(forecast)))));
  const margin = (end - ribbon.from) * 0.012;
  return { from: ribbon.from - margin, to: end + margin };
};

export interface Ghost {
  /** Share of the strip, 0 to 100; `open`: it runs on past the edge. */
  readonly from: number;
  readonly to: number;
  readonly likely: number | null;
  readonly open: boolean;
}

export const ghostOn = ({ forecast }: Pick<WhatIf, 'forecast'>, span: { readonly from: number; readonly to: number }): Ghost | null => {
  if ('unknown' in forecast) return null;
  const at = (time: string): number => (100 * (Date.parse(time) - span.from)) / (span.to - span.from);
  const [from, likely, to] = [at(forecast.readyFrom), at(forecast.readyLikely), at(forecast.readyTo)];
  return { from: Math.min(Math.max(from, 0), 99), to: Math.min(to, 100), likely: likely <= 100 ? likely : null, open: to > 100 };
};
