import type { CompareGroup } from '#contract';
import { toFahrenheit, type UnitChoice } from '../../format/units.ts';
import { ticks, type Scale } from '../../state/work-out/picture.ts';
import { textWidth } from '../ribbon/axis.ts';
import { areaBetween, smoothLine, type Place } from '../ribbon/trace.ts';

/** Days against temperature as plain numbers: what `scatter.tsx` draws, and what its tests read. */
export interface Scatter {
  readonly plot: { readonly left: number; readonly right: number; readonly top: number; readonly bottom: number };
  readonly xTicks: readonly { readonly x: number; readonly label: string }[];
  readonly yTicks: readonly { readonly y: number; readonly label: string }[];
  readonly points: readonly ScatterPoint[];
  readonly line: string;
  readonly band: string;
  /** Where no cure reaches: on the cold side and on the warm side. */
  readonly beyond: readonly { readonly line: string; readonly band: string; readonly from: number; readonly to: number }[];
  readonly shrunken: string;
}

export interface ScatterPoint {
  readonly lot: string;
  readonly x: number;
  /** The likely day, and the days of the tastings around it; `earliest` null: not tasted before. */
  readonly y: number;
  readonly latest: number;
  readonly earliest: number | null;
  readonly label: { readonly x: number; readonly y: number; readonly anchor: 'start' | 'end' } | null;
}

export interface ScatterFrame {
  readonly width: number;
  readonly height: number;
  readonly textPx: number;
  readonly units: UnitChoice;
}

export const ringPx = 6;
/** Past this the days are not drawn: a wide interval at the cold end must not press the cures flat. */
const mostOverCures = 1.7;

export const drawScatter = ({ cures, interval, fit }: Pick<CompareGroup, 'cures' | 'interval' | 'fit'>, { width, height, textPx, units }: ScatterFrame): Scatter => {
  const curve = interval?.points ?? [];
  const all = cures.map(({ temperatureC }) => temperatureC);
  const [coldest, warmest] = curve.length > 0 ? [curve[0]?.temperatureC ?? 0, curve.at(-1)?.temperatureC ?? 0] : [Math.min(...all) - 3, Math.max(...all) + 3];
  const longest = Math.max(...cures.map(({ days }) => days));
  const highest = Math.max(longest * 1.15, ...curve.filter(({ extrapolated }) => !extrapolated).map(({ high }) => Math.min(high, longest * mostOverCures)));

  const left = textWidth(String(Math.ceil(highest)), textPx) + 12;
  const plot = { left, right: width - 2, top: 6, bottom: height - textPx * 1.9 };
  const x = (celsius: number): number => plot.left + ((celsius - coldest) / (warmest - coldest)) * (plot.right - plot.left);
  const y = (days: number): number => plot.bottom - (days / highest) * (plot.bottom - plot.top);
  const along = (points: typeof curve, pick: (point: (typeof curve)[number]) => number): Place[] => points.map((point) => ({ x: x(point.temperatureC), y: y(pick(point)) }));

  const known = curve.filter(({ extrapolated }) => !extrapolated);
  const [first, last] = [curve.indexOf(known[0] as (typeof curve)[number]), curve.indexOf(known.at(-1) as (typeof curve)[number])];
  // Each side begins with the last point that is known, so that the line does not break.
  const sides = known.length === 0 ? [] : [curve.slice(0, first + 1), curve.slice(last)].filter((side) => side.length > 1);
  const shrinks = fit !== null && fit.method === 'fitted' && Math.abs(fit.shrunkenKjPerMol - fit.activationEnergyKjPerMol) >= 1;

  const ends = { from: shown(coldest, units), to: shown(warmest, units) };
  return {
    plot,
    xTicks: inner(ticks(ends.from, ends.to, wholeSteps(ends, (plot.right - plot.left) / (textPx * 4.2))), ends).map(({ at, label }) => ({ x: plot.left + ((at - ends.from) / (ends.to - ends.from)) * (plot.right - plot.left), label })),
    yTicks: ticks(0, highest, Math.max(2, Math.floor((plot.bottom - plot.top) / (textPx * 3)))).map(({ at, label }) => ({ y: y(at), label })),
    points: withLabels(cures.map(({ lot, temperatureC, days, bitterDays, likelyDays }) => ({ lot, x: x(temperatureC), y: y(likelyDays), latest: y(days), earliest: bitterDays === null ? null : y(bitterDays) })), plot, textPx),
    line: smoothLine(along(known, ({ days }) => days)),
    band: areaBetween(along(known, ({ high }) => high), along(known, ({ low }) => low)),
    beyond: sides.map((side) => ({
      line: smoothLine(along(side, ({ days }) => days)),
      band: areaBetween(along(side, ({ high }) => high), along(side, ({ low }) => low)),
      from: x(side[0]?.temperatureC ?? 0),
      to: x(side.at(-1)?.temperatureC ?? 0),
    })),
    shrunken: shrinks ? smoothLine(along(known, ({ shrunkenDays }) => shrunkenDays)) : '',
  };
};

const shown = (celsius: number, units: UnitChoice): number => (units.temperature === 'F' ? toFahrenheit(celsius) : celsius);

/** So many marks as have room, none closer than a whole degree. */
const wholeSteps = ({ from, to }: { readonly from: number; readonly to: number }, most: number): number => Math.max(1, Math.min(Math.floor(most), Math.floor(to - from)));

/** Marks at the very ends would be cut in half. */
const inner = (marks: Scale['ticks'], { from, to }: { readonly from: number; readonly to: number }): Scale['ticks'] => marks.filter(({ at }) => at - from > (to - from) * 0.03 && to - at > (to - from) * 0.03);

/** A lot code stands right of its ring, else left of it, else nowhere: the table has them all. */
const withLabels = (points: readonly Omit<ScatterPoint, 'label'>[], plot: Scatter['plot'], textPx: number): readonly ScatterPoint[] => {
  const taken = points.map(({ x, y }) => ({ from: x - ringPx, to: x + ringPx, top: y - ringPx, bottom: y + ringPx }));
  return points.map((point, own) => {
    const wide = textWidth(point.lot, textPx);
    for (const anchor of ['start', 'end'] as const) {
      const from = anchor === 'start' ? point.x + ringPx + 4 : point.x - ringPx - 4 - wide;
      const box = { from, to: from + wide, top: point.y - textPx * 0.6, bottom: point.y + textPx * 0.6 };
      const isFree = box.from >= plot.left && box.to <= plot.right && taken.every((other, index) => index === own || other.to < box.from || other.from > box.to || other.bottom < box.top || other.top > box.bottom);
      if (!isFree) continue;
      taken.push(box);
      return { ...point, label: { x: anchor === 'start' ? from : from + wide, y: point.y, anchor } };
    }
    return { ...point, label: null };
  });
};
