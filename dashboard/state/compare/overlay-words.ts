import type { ComparePair, CureCourse } from '#contract';
import { inWords, showTemperature, type UnitChoice } from '../../format/units.ts';
import { daysNumber } from './group-words.ts';

/** The overlay for those who hear it, and as a table for those who want the numbers. */
export const overlayInWords = ({ first, second }: Pick<ComparePair, 'first' | 'second'>, units: UnitChoice): string =>
  `Temperature, brine changes and tastings over the days of two cures. ${[first, second].map((course) => courseInWords(course, units)).join(' ')} The numbers stand in the table below.`;

const courseInWords = ({ lot, temperatureC, changes, tastings, end, gaps }: CureCourse, units: UnitChoice): string => {
  const last = tastings.at(-1);
  const parts = [
    temperatureC === null ? 'temperature not measured' : `mean ${inWords(showTemperature(temperatureC, units))}`,
    changesWords(changes.length),
    last === undefined ? 'not tasted' : `last tasted ${String(last.bitterness)} of 10 on day ${daysNumber(last.day)}`,
    ...(gaps.length === 0 ? [] : [gaps.length === 1 ? 'one gap in the readings' : `${String(gaps.length)} gaps in the readings`]),
    'days' in end ? `done on day ${daysNumber(end.days)}` : end.text,
  ];
  return `${lot}: ${parts.join('; ')}.`;
};

const changesWords = (count: number): string => (count === 0 ? 'no brine change' : count === 1 ? 'one brine change' : `${String(count)} brine changes`);

/** What stands in one line of the table: a day of both cures. */
export interface OverlayDay {
  readonly day: number;
  readonly cells: readonly [DayCell, DayCell];
}

export interface DayCell {
  /** Mean of the day; empty where nothing was measured. */
  readonly temperature: string;
  readonly what: string;
}

export const overlayDays = ({ first, second }: Pick<ComparePair, 'first' | 'second'>, units: UnitChoice): readonly OverlayDay[] => {
  const last = Math.floor(Math.max(...[first, second].flatMap(({ temperature, tastings, changes }) => [temperature.at(-1)?.day ?? 0, tastings.at(-1)?.day ?? 0, changes.at(-1)?.day ?? 0])));
  const cell = ({ temperature, changes, tastings }: CureCourse, day: number): DayCell => {
    const isOn = (one: { readonly day: number }): boolean => Math.floor(one.day) === day;
    const points = temperature.filter(isOn);
    const mean = points.reduce((sum, point) => sum + point.mean, 0) / points.length;
    const acts = [...changes.filter(isOn).map(() => 'brine changed'), ...tastings.filter(isOn).map(({ bitterness }) => `tasted ${String(bitterness)}`)];
    return { temperature: points.length === 0 ? '' : showTemperature(mean, units).text, what: acts.join(', ') };
  };
  return Array.from({ length: last + 1 }, (_, day) => ({ day, cells: [cell(first, day), cell(second, day)] }));
};

/** The two in one line each, under their lot codes. */
export const courseFacts = ({ cut, variety, maturity, end, temperatureC, brineRatio, changesToEnd }: CureCourse, units: UnitChoice): string =>
  [
    [cut, variety].filter((part) => part !== null).join(' '),
    maturity,
    'days' in end ? `${end.bitterDays === null ? 'done by day' : `done between day ${daysNumber(end.bitterDays)} and`} ${daysNumber(end.days)}` : end.text,
    temperatureC === null ? 'temperature not measured' : `mean ${inWords(showTemperature(temperatureC, units))}`,
    changesWords(changesToEnd),
    ...(brineRatio === null ? [] : [`${brineRatio.toFixed(2)}\u00a0L of brine to a litre of water in the fruit`]),
  ].join(' · ');

