import { dayMs, type EpochMs } from '../units/time.ts';
import type { PouredBrine } from './brine.ts';
import { changeChoices, changePlans, type ChangeChoice } from './change-plans.ts';
import { fittedCourse, horizonDays, type CureSoFar } from './fitted-course.ts';
import { courseReaches, type BrineChange } from './leaching-course.ts';
import { endPointFlesh } from './leaching-defaults.ts';
import { fewTastings } from './leaching-fit.ts';
import type { OpenChange } from './open-change.ts';

export interface ChangeOutcome {
  readonly choice: ChangeChoice;
  /** When it is likely sweet; null: not within three years. */
  readonly readyLikely: EpochMs | null;
  /** Against the change made on time: likely, and over the 80 % interval of the leaching rate. */
  readonly laterDays: number | null;
  readonly lowDays: number | null;
  readonly highDays: number | null;
  /** Brine poured and salt used from now until it is sweet. */
  readonly brineL: number;
  readonly saltG: number;
}

export interface CostOfLateness {
  readonly outcomes: readonly ChangeOutcome[];
  /** The model calls the fruit sweet by now: no change brings that nearer. */
  readonly isSweetByNow: boolean;
  readonly tastings: number;
  /** The starting guess still outweighs what was tasted. */
  readonly isGuess: boolean;
}

export interface LatenessInput extends Omit<CureSoFar, 'plannedChanges'> {
  readonly open: OpenChange;
  readonly brine: Pick<PouredBrine, 'brineL' | 'saltGPerL'>;
}

/**
 * What a late, left-out, halved or extra brine change does to the day the fruit is likely sweet, and to salt and waste.
 *
 * The leaching model is run on from now, once for each choice, with the rate that fits the tastings; what follows the change follows
 * it by the steps of the schedule. Two choices share every error of the model but that of the difference, so days apart are known
 * better than the day itself. It says nothing about safety: how old water may grow is a limit, not a date.
 *
 * Source: `leach`, with the assumptions of `forecastReadiness`. Units: days, L, g.
 * Example: slit green fruit at 15 °C, ratio 1.5, changed three times in the first week: the fourth change left out costs 2.0 days, a day late 0.3.
 */
export const costOfLateness = (input: LatenessInput): CostOfLateness | { readonly unknown: string } => {
  const { batch, now, open, brine } = input;
  const fitted = fittedCourse({ ...input, plannedChanges: [] });
  if (!fitted.ok) return { unknown: fitted.error.message };
  const { course, fit, tastings } = fitted.value;
  const horizon = batch.startedAt + horizonDays * dayMs;
  const finish = (planned: readonly BrineChange[], leachingPerDay: number): EpochMs | null =>
    courseReaches({ ...course, leachingPerDay, changes: [...course.changes, ...planned] }, endPointFlesh.sweet, horizon);

  const plans = changePlans(open, now);
  const rates = { likely: fit.leachingPerDay, low: fit.low, high: fit.high };
  const onTime = { likely: finish(plans['on-time'], rates.likely), low: finish(plans['on-time'], rates.low), high: finish(plans['on-time'], rates.high) };
  const apart = (planned: readonly BrineChange[], rate: keyof typeof rates): number | null => {
    const at = finish(planned, rates[rate]);
    const before = onTime[rate];
    return at === null || before === null ? null : (at - before) / dayMs;
  };
  const outcomes = changeChoices.flatMap((choice): ChangeOutcome[] => {
    const planned = plans[choice];
    if (planned === null) return [];
    const readyLikely = finish(planned, rates.likely);
    const edges = [apart(planned, 'low'), apart(planned, 'likely'), apart(planned, 'high')].filter((days) => days !== null);
    const brineL = brine.brineL * planned.filter(({ at }) => at < (readyLikely ?? horizon)).reduce((sum, { fraction }) => sum + fraction, 0);
    return [{
      choice,
      readyLikely,
      laterDays: apart(planned, 'likely'),
      lowDays: edges.length < 3 ? null : Math.min(...edges),
      highDays: edges.length < 3 ? null : Math.max(...edges),
      brineL,
      saltG: brineL * brine.saltGPerL,
    }];
  });
  return { outcomes, isSweetByNow: onTime.likely !== null && onTime.likely <= now, tastings: tastings.length, isGuess: tastings.length < fewTastings };
};
