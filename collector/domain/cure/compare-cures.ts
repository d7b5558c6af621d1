import type { Cut, CureStyle, Maturity } from './batch.ts';
import type { CureRegression } from './cure-regression.ts';
import { cureRanges, fitCures } from './cure-regression.ts';
import type { NotEnded } from './end-of-cure.ts';
import { notEndedReasons } from './end-of-cure.ts';
import { activationEnergyRange, cureActivationEnergy, meanKineticTemperature } from './mean-kinetic-temperature.ts';
import type { TemperatureSpan } from './temperature-span.ts';
import { totalHours } from './temperature-span.ts';

export interface CureStory {
  readonly lot: string;
  readonly cut: Cut;
  readonly style: CureStyle;
  readonly maturity: Maturity;
  /** Days to the first tasting at or below the end point; null while it has not been reached. */
  readonly days: number | null;
  /** Days between that tasting and the one before it. */
  readonly tastedEveryDays?: number | undefined;
  /** Why there are no days; not given: it is simply not finished. */
  readonly notEnded?: NotEnded | undefined;
  /** Measured temperatures from start to end point, gaps left out. */
  readonly spans: readonly TemperatureSpan[];
}

export interface ComparedCure {
  readonly lot: string;
  /** Mean kinetic temperature, with the activation energy of its group. */
  readonly temperatureC: number;
  readonly days: number;
  readonly tastedEveryDays?: number | undefined;
}

export interface CureGroup {
  readonly cut: Cut;
  readonly style: CureStyle;
  readonly maturity: Maturity;
  readonly cures: readonly ComparedCure[];
  readonly fit: CureRegression | null;
  /** The activation energy behind the mean kinetic temperatures. */
  readonly kineticEnergyKjPerMol: number;
  readonly leftOut: readonly { readonly lot: string; readonly reason: LeftOut }[];
}

export const leftOutReasons = [...notEndedReasons, 'no-temperatures', 'too-many-gaps', 'outside-valid-range'] as const;
export type LeftOut = (typeof leftOutReasons)[number];

/**
 * Finished cures in groups that may be compared: one cut, one cure style, one maturity. A brine that is kept and one that is changed
 * follow different laws, so they are never pooled.
 *
 * Mean kinetic temperature and regression share one activation energy: start at 45 kJ/mol, then five times with the fitted one.
 */
export const compareCures = (stories: readonly CureStory[]): readonly CureGroup[] => {
  const groups = Map.groupBy(stories, ({ cut, style, maturity }) => `${cut} ${style} ${maturity}`);
  return [...groups.values()].map((members) => {
    const { cut, style, maturity } = members[0] as CureStory;
    const leftOut = members.flatMap((story) => {
      const reason = reasonToLeaveOut(story);
      return reason === null ? [] : [{ lot: story.lot, reason }];
    });
    const kept = members.filter((story): story is CureStory & { readonly days: number } => reasonToLeaveOut(story) === null);
    let energy = cureActivationEnergy;
    let cures = kept.map((story) => compare(story, energy));
    let fit = fitOf(cures);
    for (let turn = 0; turn < turns && fit?.method === 'fitted' && isUsable(fit.activationEnergyKjPerMol); turn++) {
      energy = fit.activationEnergyKjPerMol;
      cures = kept.map((story) => compare(story, energy));
      fit = fitOf(cures);
    }
    return { cut, style, maturity, cures, fit, kineticEnergyKjPerMol: energy, leftOut };
  });
};

const turns = 5;
/** Below this share of the cure's hours measured, its temperature is not known (assumption). */
export const leastMeasuredShare = 0.8;

/** Hours with a known temperature over the hours of the cure. */
export const measuredShare = ({ spans, days }: Pick<CureStory, 'spans' | 'days'>): number | null => (days === null || days <= 0 ? null : Math.min(1, totalHours(spans) / (days * 24)));

const isUsable = (energy: number): boolean => energy >= activationEnergyRange.low && energy <= activationEnergyRange.high;

const reasonToLeaveOut = (story: CureStory): LeftOut | null => {
  if (story.days === null) return story.notEnded ?? 'not-finished';
  if (!(story.days >= cureRanges.days.low && story.days <= cureRanges.days.high)) return 'outside-valid-range';
  if (totalHours(story.spans) === 0) return 'no-temperatures';
  if ((measuredShare(story) ?? 0) < leastMeasuredShare) return 'too-many-gaps';
  const { temperatureC } = compare(story, cureActivationEnergy);
  return temperatureC >= cureRanges.temperatureC.low && temperatureC <= cureRanges.temperatureC.high ? null : 'outside-valid-range';
};

const compare = (story: CureStory, energy: number): ComparedCure => {
  const mean = meanKineticTemperature(story.spans, energy);
  return { lot: story.lot, temperatureC: mean.ok ? mean.value.meanKineticC : Number.NaN, days: story.days ?? Number.NaN, tastedEveryDays: story.tastedEveryDays };
};

const fitOf = (cures: readonly ComparedCure[]): CureRegression | null => {
  const fit = fitCures(cures);
  return fit.ok ? fit.value : null;
};
