import type { ComparePair, CureCourse } from '#contract';
import { toFahrenheit, type UnitChoice } from '../../format/units.ts';
import { ticks } from '../../state/work-out/picture.ts';
import { textWidth } from '../ribbon/axis.ts';
import { areaBetween, runsOf, smoothLine, type Place } from '../ribbon/trace.ts';

/** Two cures over one scale of days, as plain numbers: what `overlay.tsx` draws, and what its tests read. */
export interface Overlay {
  readonly left: number;
  readonly right: number;
  readonly temperature: Panel;
  readonly bitterness: Panel & { readonly endPoint: number };
  readonly dayTicks: readonly { readonly x: number; readonly label: string }[];
  readonly dayTicksY: number;
  readonly courses: readonly [Course, Course];
}

interface Panel {
  readonly top: number;
  readonly bottom: number;
  readonly ticks: readonly { readonly y: number; readonly label: string }[];
}

export interface Course {
  readonly line: readonly string[];
  readonly envelope: readonly string[];
  readonly gaps: readonly { readonly x: number; readonly width: number; readonly y: number }[];
  readonly changes: readonly Place[];
  readonly tastings: readonly (Place & { readonly score: string })[];
  readonly tastingLine: string;
  readonly end: number | null;
}

export interface OverlayFrame {
  readonly width: number;
  readonly textPx: number;
  readonly units: UnitChoice;
}

export const overlayHeight = 480;
export const changePx = 10;
export const tastingPx = 10;
export const gapPx = 6;

const lastDay = ({ temperature, tastings, changes, jarredDay }: CureCourse): number => Math.max(jarredDay ?? 0, temperature.at(-1)?.day ?? 0, tastings.at(-1)?.day ?? 0, changes.at(-1)?.day ?? 0);

/** Daily means once there are more than a few days: the swing of the day is not what tells two cures apart. */
const stepDays = (days: number): number => (days < 6 ? 0.25 : 1);

export const drawOverlay = ({ first, second, bitterness }: Pick<ComparePair, 'first' | 'second' | 'bitterness'>, { width, textPx, units }: OverlayFrame): Overlay => {
  const days = Math.max(lastDay(first), lastDay(second), 1) * 1.02;
  const left = Math.max(textWidth('100', textPx), textWidth('10', textPx)) + 10;
  const right = width - 2;
  const x = (day: number): number => left + (Math.min(day, days) / days) * (right - left);

  const both = [...first.temperature, ...second.temperature];
  const means = both.map(({ mean }) => mean);
  const [coldest, warmest] = means.length === 0 ? [10, 25] : [Math.min(...means), Math.max(...means)];
  const spare = Math.max((warmest - coldest) * 0.15, 1);
  const scale = { from: coldest - spare, to: warmest + spare };
  const temperature = { top: 6, bottom: 210 };
  const yOf = (celsius: number): number => temperature.bottom - ((celsius - scale.from) / (scale.to - scale.from)) * (temperature.bottom - temperature.top);
  const shown = (celsius: number): number => (units.temperature === 'F' ? toFahrenheit(celsius) : celsius);
  const [low, high] = [shown(scale.from), shown(scale.to)];

  const score = { top: 308, bottom: overlayHeight - textPx * 2 };
  const scoreY = (value: number): number => score.bottom - (value / 10) * (score.bottom - score.top);

  const courseOf = (course: CureCourse, place: 0 | 1): Course => {
    const runs = runsOf(course.temperature.map(({ day, ...rest }) => ({ t: day, ...rest })), course.gaps, stepDays(days));
    const along = (run: (typeof runs)[number], pick: (step: (typeof run)[number]) => number): Place[] => run.map((step) => ({ x: x(step.t), y: yOf(Math.min(Math.max(pick(step), scale.from), scale.to)) }));
    const row = temperature.bottom + 14 + place * 24;
    const tastings = course.tastings.map(({ day, bitterness: tasted }) => ({ x: x(day), y: scoreY(tasted), score: String(Math.round(tasted)) }));
    return {
      line: runs.map((run) => smoothLine(along(run, ({ mean }) => mean))),
      envelope: runs.map((run) => areaBetween(along(run, ({ max }) => max), along(run, ({ min }) => min))),
      gaps: course.gaps.map(({ from, to }) => ({ x: x(from), width: Math.max(x(to) - x(from), 2), y: row + changePx / 2 - gapPx / 2 })),
      changes: course.changes.map(({ day }) => ({ x: x(day), y: row })),
      tastings,
      tastingLine: tastings.length < 2 ? '' : `M${tastings.map((one) => `${one.x.toFixed(1)} ${one.y.toFixed(1)}`).join('L')}`,
      end: 'days' in course.end ? x(course.end.days) : null,
    };
  };

  return {
    left,
    right,
    temperature: { ...temperature, ticks: ticks(low, high, 5).map(({ at, label }) => ({ y: temperature.bottom - ((at - low) / (high - low)) * (temperature.bottom - temperature.top), label })) },
    bitterness: { ...score, ticks: [0, 2, 4, 6, 8, 10].map((value) => ({ y: scoreY(value), label: String(value) })), endPoint: scoreY(bitterness) },
    dayTicks: weekTicks(days, Math.max(2, Math.floor((right - left) / (textPx * 2.6)))).map((day) => ({ x: x(day), label: String(day) })),
    dayTicksY: score.bottom + textPx * 1.2,
    courses: [courseOf(first, 0), courseOf(second, 1)],
  };
};

/** Weeks are what people count a cure by; a long one in fortnights, or in fours. */
const weekTicks = (days: number, most: number): readonly number[] => {
  const every = (days <= 21 ? [1, 2, 7] : [7, 14, 28, 56]).find((step) => days / step <= most) ?? 112;
  return Array.from({ length: Math.floor(days / every) + 1 }, (_, index) => index * every);
};
