import type { Attribution, ComparePair, CureCourse } from '#contract';
import { inWords, showTemperature, showTemperatureStep, type UnitChoice } from '../../format/units.ts';
import { daysNumber, daysWords, styleWords } from './group-words.ts';

/** Why one cure was slower, in words: each part with its reason, and the rest that has none. */
export type Factor = Attribution['parts'][number]['factor'];

export const factorNames: Readonly<Record<Factor, string>> = { temperature: 'Temperature', changes: 'Brine changes', cut: 'Cut', maturity: 'Maturity', ratio: 'Brine to fruit' };

/** Less than this is no difference a grower could see. */
const leastDays = 0.05;
export const isNothing = (days: number): boolean => Math.abs(days) < leastDays;

export const longer = (days: number): string => (isNothing(days) ? 'no difference' : `${daysWords(Math.abs(days))} ${days > 0 ? 'longer' : 'shorter'}`);

export const endedDays = ({ end }: CureCourse): number | null => ('likelyDays' in end ? end.likelyDays : null);

export const pairTitle = ({ first, second, attribution }: ComparePair): string => {
  const [one, other] = [endedDays(first), endedDays(second)];
  if ('unknown' in attribution || one === null || other === null) return `${first.lot} beside ${second.lot}`;
  if (Math.abs(attribution.differenceDays) < 0.5) return `${first.lot} took as long as ${second.lot}: about ${daysWords(one)}.`;
  const { differenceDays } = attribution;
  return `${first.lot} took about ${daysWords(Math.abs(differenceDays))} ${differenceDays > 0 ? 'longer' : 'less'} than ${second.lot}: ${daysWords(one)} against ${daysNumber(other)}.`;
};

export const uncertaintyWords = ({ first, second }: Pick<ComparePair, 'first' | 'second'>, { uncertaintyDays }: Attribution): string =>
  [
    ...(uncertaintyDays < leastDays ? [] : [`Give or take ${daysWords(uncertaintyDays)}: between two tastings nobody knows the day.`]),
    ...[first, second].filter(({ end }) => 'days' in end && end.bitterDays === null).map(({ lot }) => `${lot} was done at its first tasting, and may have been earlier.`),
  ].join(' ');

/** Off by more than this factor, the model does not describe a cure (the interval of a first guess is no wider). */
const mostOff = 2;

/** Said before the bars where the model is far from what happened, so that nobody takes them for knowledge; null where it is not. */
export const misfitWords = ({ first, second }: Pick<ComparePair, 'first' | 'second'>, { modelDays }: Attribution): string | null => {
  const off = [{ course: first, model: modelDays.first }, { course: second, model: modelDays.second }].filter(({ course, model }) => {
    const took = endedDays(course);
    return took !== null && (model > took * mostOff || model < took / mostOff);
  });
  if (off.length === 0) return null;
  const said = off.map(({ course, model }) => `${daysWords(model)} for ${course.lot}, which took ${daysNumber(endedDays(course) ?? 0)}`).join(', and ');
  return `The model does not describe ${off.length === 1 ? 'one of these cures' : 'these cures'}: it says ${said}. Were all brine changes and tastings written down? Until then the bars say little.`;
};

export const partWords = (factor: Factor, days: number, first: CureCourse, second: CureCourse, units: UnitChoice): string => {
  const lead = isNothing(days) ? 'no difference:' : `${longer(days)} because`;
  switch (factor) {
    case 'temperature':
      return temperatureWords(days, first, second, units);
    case 'changes': {
      const times = (count: number): string => (count === 0 ? 'never' : count === 1 ? 'once' : `${String(count)} times`);
      if (first.style !== second.style) return `${lead} ${isNothing(days) ? '' : 'it was '}${styleWords[first.style]}, not ${styleWords[second.style]} (changed ${times(first.changesToEnd)}, not ${times(second.changesToEnd)})`;
      if (isNothing(days)) return 'no difference: changed at the same pace';
      if (first.changesToEnd === second.changesToEnd) return `${lead} its brine was changed at other times (${times(first.changesToEnd)} each)`;
      return `${lead} its brine was changed ${times(first.changesToEnd)}, not ${times(second.changesToEnd)}, and at other times`;
    }
    case 'cut':
      return first.cut === second.cut ? `no difference: both ${first.cut}` : `${lead} it was ${first.cut}, not ${second.cut}`;
    case 'maturity':
      return first.maturity === second.maturity ? `no difference: both ${first.maturity}` : `${lead} it was picked ${first.maturity}, not ${second.maturity}`;
    case 'ratio': {
      const litres = ({ brineRatio }: CureCourse): string => (brineRatio === null ? 'an unknown amount' : brineRatio.toFixed(2));
      if (isNothing(days)) return `no difference: ${litres(first) === litres(second) ? 'both' : `${litres(second)} and`} ${litres(first)}\u00a0L of brine to a litre of water in the fruit`;
      return `${lead} it had ${litres(first)}\u00a0L of brine to a litre of water in the fruit, not ${litres(second)}`;
    }
  }
};

const temperatureWords = (days: number, first: CureCourse, second: CureCourse, units: UnitChoice): string => {
  const [one, other] = [first.temperatureC, second.temperatureC];
  if (one === null || other === null) return isNothing(days) ? 'no difference' : `${longer(days)} because of its temperatures`;
  const both = `${inWords(showTemperature(one, units))} against ${showTemperature(other, units).text}`;
  if (isNothing(days)) return `no difference: ${both} on the mean`;
  const step = inWords(showTemperatureStep(Math.abs(one - other), units));
  const side = one < other ? 'colder' : 'warmer';
  // Two cures of one mean may differ in when they were warm.
  return (days > 0) === (one < other) ? `${longer(days)} because it was ${step} ${side} (${both})` : `${longer(days)} because it was warm at other times (${both} on the mean)`;
};

export const unexplainedWords = ({ parts, unexplainedDays }: Attribution): string => {
  if (isNothing(unexplainedDays)) return 'nothing is left unexplained';
  const explained = parts.reduce((sum, { days }) => sum + Math.abs(days), 0);
  const reasons = 'variety, size of the fruit, salt, who tasted, or the model itself';
  return `${longer(unexplainedDays)} that none of these explains: ${reasons}${Math.abs(unexplainedDays) > explained ? '. That is more than all the rest together, so take the rest with care' : ''}`;
};
