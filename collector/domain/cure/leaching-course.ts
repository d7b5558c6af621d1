import type { EpochMs } from '../units/time.ts';
import type { Bitter } from './leaching.ts';
import { changeBrine, leach } from './leaching.ts';
import type { TemperatureDose } from './temperature-dose.ts';

export interface BrineChange {
  readonly at: EpochMs;
  /** Share of the brine that is replaced, 0 to 1. */
  readonly fraction: number;
}

/** Everything a cure's course depends on; histories are integrated once, rates may then be tried at will. */
export interface Course {
  readonly start: EpochMs;
  readonly startingFlesh: number;
  readonly ratio: number;
  readonly leachingPerDay: number;
  readonly hydrolysisPerDay: number;
  readonly leachingDose: TemperatureDose;
  readonly hydrolysisDose: TemperatureDose;
  /** After the start, oldest first. */
  readonly changes: readonly BrineChange[];
}

const between = (course: Course, from: Bitter, a: EpochMs, b: EpochMs): Bitter =>
  leach(
    from,
    course.leachingPerDay * (course.leachingDose.until(b) - course.leachingDose.until(a)),
    course.hydrolysisPerDay * (course.hydrolysisDose.until(b) - course.hydrolysisDose.until(a)),
    course.ratio,
  );

/** The state at each of some times (oldest first). At the moment of a change the brine is the old one. */
export const courseAt = (course: Course, times: readonly EpochMs[]): Bitter[] => {
  const states: Bitter[] = [];
  let state: Bitter = { flesh: course.startingFlesh, brine: 0 };
  let at = course.start;
  let next = 0;
  for (const time of times) {
    for (let change = course.changes[next]; change !== undefined && change.at < time; change = course.changes[++next]) {
      state = changeBrine(between(course, state, at, change.at), change.fraction);
      at = change.at;
    }
    if (time > at) {
      state = between(course, state, at, time);
      at = time;
    }
    states.push(state);
  }
  return states;
};

const precisionMs = 60_000;

/**
 * When the flesh first comes down to `target`, or null if not by `until`.
 * The curve has a kink at every change, so it is walked from change to change; between two changes flesh only falls (the brine is never
 * more bitter than the flesh), so the moment is then found by halving, to the minute.
 */
export const courseReaches = (course: Course, target: number, until: EpochMs): EpochMs | null => {
  let state: Bitter = { flesh: course.startingFlesh, brine: 0 };
  let at = course.start;
  if (state.flesh <= target) return at;
  for (let next = 0; at < until; next++) {
    const change = course.changes[next];
    const stop = change === undefined ? until : Math.min(change.at, until);
    const end = between(course, state, at, stop);
    if (end.flesh <= target) {
      let low = at;
      let high = stop;
      while (high - low > precisionMs) {
        const middle = (low + high) / 2;
        if (between(course, state, at, middle).flesh <= target) high = middle;
        else low = middle;
      }
      return Math.round(high);
    }
    if (change === undefined) return null;
    state = changeBrine(end, change.fraction);
    at = stop;
  }
  return null;
};
