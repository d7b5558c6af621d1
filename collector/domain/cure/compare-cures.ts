import type { Cut, CureStyle, Maturity } from './batch.ts';
import type { CureRegression } from './cure-regression.ts';
import { cureRanges, fitCures } from './cure-regression.ts';
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
  readonly tastedEveryDays?: number;
  /** Measured temperatures from start to end point, gaps left out. */
  readonly spans: readonly TemperatureSpan[];
}

export interface ComparedCure {
  readonly lot: string;
  readonly temperatureC: number;
  readonly days: number;
}

export interface CureGroup {
  readonly cut: Cut;
  readonly style: CureStyle;
  readonly maturity: Maturity;
  readonly cures: readonly ComparedCure[];
  readonly fit: CureRegression | null;
  readonly leftOut: readonly { readonly lot: string; readonly reason: LeftOut }[];
}

export const leftOutReasons = ['not-finished', 'no-temperatures', 'too-many-gaps', 'outside-valid-range'] as const;
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
    let compared = kept.map((story) => compare(story, energy));
    let fit = fitOf(compared);
    for (let turn = 0; turn < turns && fit?.method === 'fitted' && isUsable(fit.activationEnergyKjPerMol); turn++) {
      energy = fit.activationEnergyKjPerMol;
      compared = kept.map((story) => compare(story, energy));
      fit = fitOf(compared);
    }
    return { cut, style, maturity, cures: compared.map(({ lot, temperatureC, days }) => ({ lot, temperatureC, days })), fit, leftOut };
  });
};

const turns = 5;
/** Below this share of the cure's hours measured, its temperature is not known. */
const leastMeasured = 0.8;

const isUsable = (energy: number): boolean => energy >= activationEnergyRange.low && energy <= activationEnergyRange.high;

const reasonToLeaveOut = (story: CureStory): LeftOut | null => {
  if (story.days === null) return 'not-finished';
  if (!(story.days >= cureRanges.days.low && story.days <= cureRanges.days.high)) return 'outside-valid-range';
  if (totalHours(story.spans) === 0) return 'no-temperatures';
  if (totalHours(story.spans) < leastMeasured * story.days * 24) return 'too-many-gaps';
  const { temperatureC } = compare(story, cureActivationEnergy);
  return temperatureC >= cureRanges.temperatureC.low && temperatureC <= cureRanges.temperatureC.high ? null : 'outside-valid-range';
};

const compare = (story: CureStory, energy: number): ComparedCure & { readonly tastedEveryDays?: number } => {
  const mean = meanKineticTemperature(story.spans, energy);
  return {
    lot: story.lot,
    temperatureC: mean.ok ? mean.value.meanKineticC : Number.NaN,
    days: story.days ?? Number.NaN,
    ...(story.tastedEveryDays === undefined ? {} : { tastedEveryDays: story.tastedEveryDays }),
  };
};

const fitOf = (cures: readonly (ComparedCure & { readonly tastedEveryDays?: number })[]): CureRegression | null => {
  const fit = fitCures(cures);
  return fit.ok ? fit.value : null;
};
