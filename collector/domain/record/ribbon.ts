import { dayMs, fromRfc3339 } from '../units/time.ts';
import type { LotRecord } from './lot-record.ts';
import { shown } from './values.ts';

/**
 * The cure as one band: lowest to highest temperature of each day, hatched where nothing was measured, with the acts above it and the
 * limits across. Shapes in a box 0 to `width` by 0 to `height`, for whoever draws them; black and grey only, told apart by form.
 */
export interface CureRibbon {
  readonly width: number;
  readonly height: number;
  readonly shapes: readonly RibbonShape[];
  readonly caption: string;
}

export type RibbonShape =
  | { readonly kind: 'box'; readonly x: number; readonly y: number; readonly width: number; readonly height: number; readonly fill: 'band' | 'gap' }
  | { readonly kind: 'line'; readonly x1: number; readonly y1: number; readonly x2: number; readonly y2: number; readonly dashed: boolean }
  | { readonly kind: 'word'; readonly x: number; readonly y: number; readonly text: string; readonly end: 'start' | 'middle' | 'end' };

const width = 540;
const height = 96;
const left = 30;
const top = 22;
const bottom = height - 14;
/** A band of nothing cannot be seen. */
const leastBand = 1.2;

const marks: Readonly<Record<string, string>> = { 'brine-changed': 'B', 'brine-topped-up': 'b', 'salt-added': 'S', 'acid-added': 'A', tasted: 'T', jarred: 'J', moved: 'M', split: 'P' };

/** Null where no temperature was measured at all. */
export const cureRibbon = (record: LotRecord): CureRibbon | null => {
  const watched = record.watched.find(({ quantity }) => quantity === 'temperature');
  const lows = watched?.days.flatMap(({ min }) => min ?? []) ?? [];
  const highs = watched?.days.flatMap(({ max }) => max ?? []) ?? [];
  const [firstDay, lastDay] = [watched?.days[0], watched?.days.at(-1)];
  if (watched === undefined || firstDay === undefined || lastDay === undefined || lows.length === 0) return null;
  const [from, to] = [fromRfc3339(firstDay.from), fromRfc3339(lastDay.to)];
  const limits = record.limits.filter(({ quantity, priority }) => quantity === 'temperature' && priority !== 'low');
  const lowest = Math.floor(Math.min(...lows, ...limits.map(({ value }) => value)) - 1);
  const highest = Math.ceil(Math.max(...highs, ...limits.map(({ value }) => value)) + 1);
  const x = (at: number): number => tenth(left + ((width - left) * (at - from)) / (to - from));
  const y = (celsius: number): number => tenth(bottom - ((bottom - top) * (celsius - lowest)) / (highest - lowest));
  const band = watched.days.flatMap(({ from: start, to: end, min, max }): RibbonShape[] => {
    if (min === null || max === null) return [];
    const [x1, x2] = [x(fromRfc3339(start)), x(fromRfc3339(end))];
    return [{ kind: 'box', x: x1, y: y(max), width: tenth(x2 - x1), height: Math.max(leastBand, tenth(y(min) - y(max))), fill: 'band' }];
  });
  const gaps = watched.gaps.map(({ from: start, to: end }): RibbonShape => ({ kind: 'box', x: x(fromRfc3339(start)), y: top, width: Math.max(0.8, tenth(x(fromRfc3339(end)) - x(fromRfc3339(start)))), height: bottom - top, fill: 'gap' }));
  const across = [...new Set(limits.map(({ value }) => value))].flatMap((value): RibbonShape[] => [
    { kind: 'line', x1: left, y1: y(value), x2: width, y2: y(value), dashed: true },
    { kind: 'word', x: left - 3, y: y(value) + 2.5, text: String(value), end: 'end' },
  ]);
  const acts = marksAt(record, from, to, x).flatMap(([place, letters]): RibbonShape[] => [
    { kind: 'word', x: place, y: 12, text: letters, end: 'middle' },
    { kind: 'line', x1: place, y1: 14, x2: place, y2: top, dashed: false },
  ]);
  const weeks = Array.from({ length: Math.floor((to - from) / (7 * dayMs)) }, (_, index) => index + 1).flatMap((week): RibbonShape[] => {
    const every = (to - from) / dayMs > 120 ? 4 : 1;
    return week % every === 0 ? [{ kind: 'word', x: x(from + week * 7 * dayMs), y: height - 3, text: `week ${week}`, end: 'middle' }, { kind: 'line', x1: x(from + week * 7 * dayMs), y1: bottom, x2: x(from + week * 7 * dayMs), y2: bottom + 3, dashed: false }] : [];
  });
  const axis: RibbonShape = { kind: 'line', x1: left, y1: bottom, x2: width, y2: bottom, dashed: false };
  const caption = `Brine temperature, lowest to highest of each day, ${shown(Math.min(...lows), 'Cel')} to ${shown(Math.max(...highs), 'Cel')}. Dashed: limits, °C. Hatched: nothing measured. B brine changed, b topped up, S salt, A acid, T tasted, J jars.`;
  return { width, height, shapes: [...gaps, ...band, ...across, axis, ...acts, ...weeks], caption };
};

/** Letters nearer than this would cover each other: they share a mark. */
const letterPt = 9;

const marksAt = ({ acts }: LotRecord, from: number, to: number, x: (at: number) => number): readonly (readonly [number, string])[] => {
  const placed: [number, string][] = [];
  for (const { kind, at, standing } of acts) {
    const mark = marks[kind];
    const time = fromRfc3339(at);
    if (mark === undefined || !standing || time < from || time > to) continue;
    const last = placed.at(-1);
    if (last !== undefined && x(time) - last[0] < letterPt) last[1] = last[1].includes(mark) ? last[1] : last[1] + mark;
    else placed.push([x(time), mark]);
  }
  return placed;
};

const tenth = (value: number): number => Math.round(value * 10) / 10;
