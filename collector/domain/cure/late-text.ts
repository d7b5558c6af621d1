import type { ChangeChoice } from './change-plans.ts';
import type { ChangeOutcome, CostOfLateness } from './cost-of-lateness.ts';

/** The cost of a late change in a sentence or two, as one grower would tell another. */
export const lateText = (cost: CostOfLateness): string => {
  const guess = cost.isGuess ? ` ${guessWords}` : '';
  if (cost.isSweetByNow) return `By the model it is sweet already: taste before another change.${guess}`;
  const late = outcomeOf(cost, 'day-late');
  const out = outcomeOf(cost, 'left-out');
  const extra = outcomeOf(cost, 'extra');
  const saved = savedWords(outcomeOf(cost, 'on-time'), out);
  const lateWords = laterWords(late);
  const outWords = laterWords(out);
  const sentences = [
    lateWords === outWords ? `A day later or left out, it ${lateWords}${saved === '' ? '' : `; leaving it out saves ${saved}`}.` : `A day later ${lateWords}; leaving it out ${outWords}${saved === '' ? '' : ` and saves ${saved}`}.`,
    ...(extra !== null && isLess(extra) ? [`One more today makes it ${spanWords(-(extra.laterDays ?? 0))} sooner.`] : []),
  ];
  return sentences.join(' ') + guess;
};

export const guessWords = 'Mostly the starting guess: fewer than three tastings.';

const outcomeOf = ({ outcomes }: CostOfLateness, choice: ChangeChoice): ChangeOutcome | null => outcomes.find((outcome) => outcome.choice === choice) ?? null;

/** Less than this cannot be tasted (assumption). */
const noticeableDays = 0.2;

const isLess = ({ laterDays }: ChangeOutcome): boolean => laterDays !== null && laterDays <= -noticeableDays;

const laterWords = (outcome: ChangeOutcome | null): string => {
  if (outcome === null || outcome.laterDays === null) return 'makes it take more than three years';
  const { laterDays } = outcome;
  if (isLess(outcome)) return 'makes it no later';
  return laterDays < noticeableDays ? 'makes hardly any difference' : `makes it ${spanWords(laterDays)} later`;
};

/** Days as people say them; never finer than the model is. */
const spanWords = (days: number): string => {
  if (days < 0.35) return 'a few hours';
  if (days < 0.75) return 'about half a day';
  if (days < 1.25) return 'about a day';
  if (days < 1.75) return 'about a day and a half';
  return `about ${Math.round(days)} days`;
};

/** Brine and salt not poured if the change is left out; nothing where later changes make up for it. */
const savedWords = (onTime: ChangeOutcome | null, out: ChangeOutcome | null): string => {
  const litres = (onTime?.brineL ?? 0) - (out?.brineL ?? 0);
  const saltKg = ((onTime?.saltG ?? 0) - (out?.saltG ?? 0)) / 1_000;
  if (litres < 0.5) return '';
  return `${litres.toFixed(0)} L${saltKg < 0.05 ? '' : ` and ${saltKg.toFixed(1)} kg of salt`}`;
};
