import type { Ribbon } from '#contract';
import { dayMonth } from '../../format/time.ts';

const count = (n: number, one: string, many: string): string => (n === 0 ? '' : n === 1 ? `one ${one}` : `${String(n)} ${many}`);

/** The ribbon in one sentence, for those who hear it. */
export const ribbonInWords = (ribbon: Ribbon, zone: string): string => {
  const lastTasting = ribbon.tastings.at(-1);
  const ending =
    ribbon.jarredAt !== null
      ? `jarred ${dayMonth(ribbon.jarredAt, zone)}${ribbon.readyToEatAt === null ? '' : `, ready to eat from ${dayMonth(ribbon.readyToEatAt, zone)}`}`
      : 'readyLikely' in ribbon.forecast
        ? `likely sweet ${dayMonth(Date.parse(ribbon.forecast.readyLikely), zone)}, between ${dayMonth(Date.parse(ribbon.forecast.readyFrom), zone)} and ${dayMonth(Date.parse(ribbon.forecast.readyTo), zone)}`
        : `ready date not known: ${ribbon.forecast.unknown}`;
  const parts = [
    `Cure from ${dayMonth(ribbon.from, zone)}`,
    count(ribbon.changes.length, 'brine change', 'brine changes'),
    lastTasting === undefined ? '' : `tasted ${String(ribbon.tastings.length)} times, last bitterness ${String(lastTasting.bitterness)} of 10`,
    count(ribbon.outside.length, 'stretch outside the safe range', 'stretches outside the safe range'),
    count(ribbon.gaps.length, 'gap in the readings', 'gaps in the readings'),
    ending,
  ];
  return `${parts.filter((part) => part !== '').join('; ')}.`;
};
