import type { PlanBand } from '#contract';

/** Drums in use, week by week, as steps: a week has one number from its first day to its last. */
export interface WeeksPicture {
  readonly band: string;
  readonly middle: string;
  readonly haveY: number;
  readonly rows: readonly { readonly drums: number; readonly y: number }[];
  readonly marks: readonly { readonly week: number; readonly x: number }[];
  /** The weeks in which the drums there are do not do in one season of ten. */
  readonly over: string;
}

export interface WeeksRoom {
  readonly width: number;
  readonly height: number;
  readonly left: number;
  readonly foot: number;
  readonly head: number;
}

export const weeksPicture = (weeks: readonly PlanBand[], have: number, { width, height, left, foot, head }: WeeksRoom): WeeksPicture => {
  const most = Math.max(have, 1, ...weeks.map(({ p90 }) => Math.ceil(p90))) + 0.5;
  const x = (week: number): number => left + ((width - left) * week) / Math.max(1, weeks.length);
  const y = (drums: number): number => height - foot - ((height - foot - head) * drums) / most;
  const steps = (value: (week: PlanBand) => number): string => weeks.map((week, index) => `${r(x(index))} ${r(y(value(week)))}L${r(x(index + 1))} ${r(y(value(week)))}`).join('L');
  const back = weeks.toReversed().map((week, index) => `${r(x(weeks.length - index))} ${r(y(week.p10))}L${r(x(weeks.length - index - 1))} ${r(y(week.p10))}`).join('L');
  const every = weeks.length > 16 || width < 560 ? 4 : 2;
  const apart = most > 12 ? Math.ceil(most / 6) : most > 6 ? 2 : 1;
  return {
    band: weeks.length === 0 ? '' : `M${steps(({ p90 }) => p90)}L${back}z`,
    middle: weeks.length === 0 ? '' : `M${steps(({ p50 }) => Math.round(p50))}`,
    haveY: y(have),
    rows: Array.from({ length: Math.floor(most / apart) + 1 }, (_, index) => ({ drums: index * apart, y: y(index * apart) })),
    marks: weeks.flatMap((_, index) => (index % every === 0 ? [{ week: index + 1, x: x(index) }] : [])),
    over: weeks.map((week, index) => (week.p90 > have ? `M${r(x(index))} ${r(y(week.p90))}H${r(x(index + 1))}V${r(y(Math.max(have, week.p10)))}H${r(x(index))}z` : '')).join(''),
  };
};

const r = (value: number): string => String(Math.round(value * 10) / 10);
