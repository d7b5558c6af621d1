import type { Ribbon } from '#contract';
import { dayMs } from '#contract';

/** The temperature on the ribbon: means and extremes over even steps, broken at gaps, and the stretches outside the limit. */
export interface Step {
  readonly t: number;
  readonly min: number;
  readonly mean: number;
  readonly max: number;
}

type Gap = Ribbon['gaps'][number];

/** Steps wide enough on screen, and a day long in all but a young cure, that the daily swing does not become noise. */
export const stepMs = (pxPerDay: number, cureDays: number): number => {
  const wanted = Math.max(7 / Math.max(pxPerDay, 0.01), cureDays < 6 ? 0 : 1);
  return ([0.25, 0.5, 1, 2, 4, 7].find((days) => days >= wanted) ?? 7) * dayMs;
};

const inGap = (from: number, to: number, gaps: readonly Gap[], least: number): boolean => gaps.some((gap) => gap.to - gap.from >= least && gap.from < to && gap.to > from);

/** Runs of steps without a gap between them. A gap shorter than a step cannot be seen in the line; it is hatched all the same. */
export const runsOf = (points: readonly Step[], gaps: readonly Gap[], widthMs: number): readonly (readonly Step[])[] => {
  const steps: Step[] = [];
  const origin = points[0]?.t ?? 0;
  let bin = -1;
  let members: Step[] = [];
  const close = (): void => {
    const count = members.length;
    if (count === 0) return;
    const sum = (pick: (step: Step) => number): number => members.reduce((total, step) => total + pick(step), 0);
    steps.push({ t: sum(({ t }) => t) / count, mean: sum(({ mean }) => mean) / count, min: Math.min(...members.map(({ min }) => min)), max: Math.max(...members.map(({ max }) => max)) });
  };
  let before: Step | undefined;
  for (const point of points) {
    const index = Math.floor((point.t - origin) / widthMs);
    if (index !== bin || (before !== undefined && inGap(before.t, point.t, gaps, widthMs / 2))) {
      close();
      members = [];
      bin = index;
    }
    members.push(point);
    before = point;
  }
  close();
  const first = points[0];
  const last = points.at(-1);
  const runs: Step[][] = [];
  for (const [index, step] of steps.entries()) {
    const previous = steps[index - 1];
    if (previous === undefined || inGap(previous.t, step.t, gaps, widthMs / 2)) runs.push([]);
    runs.at(-1)?.push(step);
  }
  // The line begins and ends where the readings do, not in the middle of the outer steps.
  if (first !== undefined && (steps[0]?.t ?? first.t) > first.t) runs[0]?.unshift(first);
  if (last !== undefined && (steps.at(-1)?.t ?? last.t) < last.t) runs.at(-1)?.push(last);
  return runs;
};

export interface Place {
  readonly x: number;
  readonly y: number;
}

const number = (value: number): string => value.toFixed(1);

/** A smooth line that never overshoots its points (monotone cubic, Fritsch and Carlson 1980): no peak is drawn that was not measured. */
export const smoothLine = (places: readonly Place[]): string => {
  const [first] = places;
  if (first === undefined) return '';
  const slopes: number[] = [];
  for (let index = 0; index < places.length - 1; index += 1) {
    const [a, b] = [places[index], places[index + 1]];
    slopes.push(a === undefined || b === undefined || b.x === a.x ? 0 : (b.y - a.y) / (b.x - a.x));
  }
  const tangents = places.map((_, index) => {
    const before = slopes[index - 1];
    const after = slopes[index];
    if (before === undefined) return after ?? 0;
    if (after === undefined) return before;
    if (before * after <= 0) return 0;
    // The harmonic mean stays within three times the smaller slope, which is what keeps the curve monotone.
    return (2 * before * after) / (before + after);
  });
  let path = `M${number(first.x)} ${number(first.y)}`;
  for (let index = 1; index < places.length; index += 1) {
    const [a, b] = [places[index - 1], places[index]];
    if (a === undefined || b === undefined) continue;
    const third = (b.x - a.x) / 3;
    path += `C${number(a.x + third)} ${number(a.y + third * (tangents[index - 1] ?? 0))} ${number(b.x - third)} ${number(b.y - third * (tangents[index] ?? 0))} ${number(b.x)} ${number(b.y)}`;
  }
  return path;
};

/** The area between two lines that run over the same places. */
export const areaBetween = (upper: readonly Place[], lower: readonly Place[]): string => {
  if (upper.length === 0) return '';
  const back = smoothLine(lower.toReversed());
  return `${smoothLine(upper)}L${back.slice(1)}Z`;
};

/** Readings within one stretch outside the limit, at the extreme that broke it. */
export const outsidePlaces = (points: readonly Step[], stretch: Ribbon['outside'][number]): readonly { readonly t: number; readonly value: number }[] =>
  points.filter(({ t }) => t >= stretch.from && t <= stretch.to).map(({ t, min, max }) => ({ t, value: stretch.side === 'high' ? max : min }));
