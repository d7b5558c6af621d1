import { dayMs, type EpochMs } from '../units/time.ts';
import { changePlans } from './change-plans.ts';
import { forecastReadiness, type Forecast, type ForecastInput } from './forecast.ts';
import type { OpenChange } from './open-change.ts';
import { changesFrom } from './planned-changes.ts';

/** What may be thought of for the changes still to come; `as-planned` keeps to the schedule. */
export const whatIfChanges = ['as-planned', 'skip-next', 'half-next', 'extra-today', 'every-second-day', 'weekly', 'fortnightly', 'stronger-brine'] as const;
export type WhatIfChange = (typeof whatIfChanges)[number];

/** One thing, or two, that may turn out otherwise from now on. */
export interface WhatIf {
  /** Warmer than now is assumed; below zero: cooler. */
  readonly warmerC: number;
  readonly changes: WhatIfChange;
}

export interface WhatIfOutcome extends WhatIf {
  readonly title: string;
  readonly forecast: Forecast;
  /** Likely day against that of the schedule at the temperature assumed; null where one of the two is not known. Below zero: sooner. */
  readonly laterDays: number | null;
  /** What must be known beside the date; null: nothing. */
  readonly caution: string | null;
}

export interface WhatIfInput extends ForecastInput {
  /** The change that is due next; null where nothing is changed. */
  readonly open: OpenChange | null;
}

/** What a grower asks first; what needs a schedule is left out where there is none. */
export const usualWhatIfs = (open: OpenChange | null): readonly WhatIf[] => [
  { warmerC: 2, changes: 'as-planned' },
  { warmerC: -2, changes: 'as-planned' },
  ...(open === null ? [] : (['skip-next', 'half-next', 'every-second-day', 'stronger-brine'] as const).map((changes) => ({ warmerC: 0, changes }))),
];

/**
 * When the fruit is likely sweet if something turns out otherwise: the forecast made again with another temperature or other changes.
 *
 * The rate stays the one that fits the tastings so far, so the days apart are known better than the days themselves.
 * Source: as `forecastReadiness`. Salt: no published effect of its strength on the loss of bitterness between 0 and 10 % was found, so a
 * stronger brine moves nothing (assumption). It says nothing about safety: a warmer drum has limits of its own.
 * `before`: the forecast as planned, where it is known already.
 * Example: slit green fruit at 18 °C, three changes and then weekly, on day 10: 2 °C warmer is about 2 days sooner.
 */
export const whatIf = (input: WhatIfInput, asked: WhatIf, before: Forecast = forecastReadiness(input)): WhatIfOutcome => {
  const asIs = 'unknown' in before ? null : before;
  const forecast =
    asIs === null
      ? before
      : forecastReadiness({ ...input, plannedChanges: plannedFor(asked.changes, input), assumedFutureTemperatureC: asIs.futureTemperatureC + asked.warmerC });
  return {
    ...asked,
    title: whatIfTitle(asked),
    forecast,
    laterDays: asIs === null || 'unknown' in forecast ? null : (forecast.readyLikely - asIs.readyLikely) / dayMs,
    caution: cautionOf(asked, input.open),
  };
};

const plannedFor = (changes: WhatIfChange, { open, now, plannedChanges }: WhatIfInput): ForecastInput['plannedChanges'] => {
  if (open === null || changes === 'as-planned' || changes === 'stronger-brine') return plannedChanges;
  const plans = changePlans(open, now);
  switch (changes) {
    case 'skip-next':
      return plans['left-out'];
    case 'half-next':
      return plans.half;
    case 'extra-today':
      return plans.extra ?? plannedChanges;
    default:
      return changesFrom({ step: open.step, steps: { afterDays: [], thenEveryDays: [everyDays[changes]], source: '' } }, firstAt(open, now, everyDays[changes]));
  }
};

const everyDays = { 'every-second-day': 2, weekly: 7, fortnightly: 14 } as const;

/** A schedule that is changed today begins with the change that is due, or its own first step, whichever comes sooner. */
const firstAt = ({ step }: OpenChange, now: EpochMs, days: number): EpochMs => Math.max(now, Math.min(step.dueAt, now + days * dayMs));

const changeWords: Readonly<Record<WhatIfChange, string>> = {
  'as-planned': '', 'skip-next': 'next change left out', 'half-next': 'next change with half the brine', 'extra-today': 'one more change today', 'every-second-day': 'changed every second day', weekly: 'changed every week',
  fortnightly: 'changed every two weeks', 'stronger-brine': 'stronger brine',
};

export const whatIfTitle = ({ warmerC, changes }: WhatIf): string => {
  const degrees = warmerC === 0 ? '' : `${Math.abs(warmerC)} °C ${warmerC > 0 ? 'warmer' : 'cooler'}`;
  const words = [degrees, changeWords[changes]].filter((part) => part !== '').join(', ');
  return words === '' ? 'As planned' : words.charAt(0).toUpperCase() + words.slice(1);
};

const cautionOf = ({ warmerC, changes }: WhatIf, open: OpenChange | null): string | null => {
  const parts = [
    ...(warmerC > 0 ? ['Warm fruit softens and spoils sooner: the limits of the drum stand.'] : []),
    ...(open?.medium === 'water' && (changes === 'skip-next' || changes === 'weekly' || changes === 'fortnightly') ? ['In plain water the change is hygiene: its limit stands.'] : []),
    ...(changes === 'stronger-brine' ? ['Salt is not known to change how fast bitterness goes; it slows what spoils, and what sours.'] : []),
  ];
  return parts.length === 0 ? null : parts.join(' ');
};
