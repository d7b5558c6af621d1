import { dayMs, type Ribbon } from '#contract';
import { calendarDay, dayMonth, fromLocal } from '../../format/time.ts';

/** One stretch of time on a strip of the screen: the same for every drum, so that one line means now on all of them. */
export interface Axis {
  readonly from: number;
  readonly to: number;
  readonly width: number;
}

export interface Tick {
  readonly t: number;
  readonly x: number;
  /** Empty where the words would run into their neighbours or into the mark of today. */
  readonly label: string;
}

export const xOn = (axis: Axis, t: number): number => ((t - axis.from) / (axis.to - axis.from)) * axis.width;

const longestPastMs = 210 * dayMs;
/** What lies ahead may take a little more room than what has been; a wide forecast must not squeeze the cures themselves flat. */
const leastAheadMs = 60 * dayMs;
const aheadShare = 1.6;
const shortestMs = 42 * dayMs;

/** The share of the strip that the words beside a haze need (measured at the sizes of the wall). */
const wordsShare = 0.2;
/** Between now and a haze they need air on both sides. */
const insideShare = 0.25;

/** Where words would find no room beside a haze, neither right of it nor between now and it, the calendar runs on until they do. */
const endForWords = (ribbons: readonly Pick<Ribbon, 'forecast' | 'jarredAt'>[], from: number, to: number, now: number): number => {
  let end = to;
  for (const { forecast, jarredAt } of ribbons) {
    if (jarredAt !== null || !('readyTo' in forecast)) continue;
    const inside = (Date.parse(forecast.readyFrom) - now) / (end - from);
    const hazeEnd = Math.max(Date.parse(forecast.readyTo), now);
    if (inside < insideShare && hazeEnd <= to) end = Math.max(end, from + (hazeEnd - from) / (1 - wordsShare));
  }
  return end;
};

/** Wide enough for every cure shown; a very long one is cut at the edge rather than squeezing the others flat. */
export const sharedSpan = (ribbons: readonly Pick<Ribbon, 'from' | 'to' | 'forecast' | 'jarredAt'>[], now: number): { readonly from: number; readonly to: number } => {
  const from = Math.max(Math.min(now - 7 * dayMs, ...ribbons.map((ribbon) => ribbon.from)), now - longestPastMs);
  const furthest = now + Math.max(leastAheadMs, aheadShare * (now - from));
  const to = Math.min(Math.max(now + 7 * dayMs, ...ribbons.map((ribbon) => ribbon.to)), furthest);
  const lacking = Math.max(0, shortestMs - (to - from));
  const margin = (to - from + lacking) * 0.012;
  const first = from - margin;
  return { from: first, to: endForWords(ribbons, first, to + lacking + margin, now) };
};

/** Mean advance of a letter in the bundled typeface, as a share of the type size (measured on the labels the ribbon draws). */
export const letterShare = 0.505;
export const textWidth = (text: string, sizePx: number, bold = false): number => text.length * sizePx * letterShare * (bold ? 1.04 : 1);

/** Mondays at the local start of the day while there is room for them, every second Monday, then first days of months. */
const tickTimes = (axis: Axis, zone: string, roomPx: number): readonly number[] => {
  const perDay = axis.width / ((axis.to - axis.from) / dayMs);
  const first = calendarDay(axis.from, zone);
  const times: number[] = [];
  if (perDay * 14 >= roomPx) {
    const everyDays = perDay * 7 >= roomPx ? 7 : 14;
    // Days since Monday, 5 January 1970, count Mondays evenly whatever the month.
    const dayNumber = Math.floor(Date.UTC(first.year, first.month - 1, first.day) / dayMs) - 4;
    const toNext = (everyDays - (dayNumber % everyDays)) % everyDays;
    for (let step = toNext; ; step += everyDays) {
      const t = fromLocal(zone, first.year, first.month, first.day + step);
      if (t > axis.to) break;
      if (t >= axis.from) times.push(t);
    }
    return times;
  }
  const everyMonths = Math.max(1, Math.ceil(roomPx / (perDay * 28)));
  for (let month = first.month; ; month += everyMonths) {
    const t = fromLocal(zone, first.year, month, 1);
    if (t > axis.to) break;
    if (t >= axis.from) times.push(t);
  }
  return times;
};

export interface TickRoom {
  readonly zone: string;
  readonly textPx: number;
  /** Strip kept free for the mark of today. */
  readonly today: { readonly from: number; readonly to: number };
}

export const ticksOn = (axis: Axis, { zone, textPx, today }: TickRoom): readonly Tick[] => {
  if (axis.width <= 0) return [];
  const widest = textWidth('30 Sep', textPx);
  return tickTimes(axis, zone, widest + textPx * 0.7).map((t) => {
    const x = xOn(axis, t);
    const label = dayMonth(t, zone);
    const half = textWidth(label, textPx) / 2;
    const hidden = (x + half + 6 > today.from && x - half - 6 < today.to) || x - half < -textPx || x + half > axis.width + textPx;
    return { t, x, label: hidden ? '' : label };
  });
};
