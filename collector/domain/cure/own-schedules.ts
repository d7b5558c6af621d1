import type { Rfc3339 } from '../units/time.ts';
import type { CureStyle } from './batch.ts';
import { changeSteps, type Medium, type Steps } from './schedules.ts';

/** A schedule of changes that the site has set in place of the default; the latest stands, for cures under way too. */
export interface OwnSchedule {
  readonly style: CureStyle;
  readonly medium: Medium;
  readonly steps: Steps;
  readonly by: string;
  readonly at: Rfc3339;
}

/** By style and medium; what is not in it goes by the default. */
export type OwnSchedules = ReadonlyMap<string, OwnSchedule>;

export const scheduleKey = (style: CureStyle, medium: Medium): string => `${style}/${medium}`;

/** The steps of changes for a style and what is in the drum; null where nothing is changed, which is not for a site to say. */
export const stepsFor = (own: OwnSchedules, style: CureStyle, medium: Medium): Steps | null => {
  const usual = changeSteps[style][medium];
  return usual === null ? null : (own.get(scheduleKey(style, medium))?.steps ?? usual);
};
