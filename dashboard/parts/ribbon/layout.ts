import { dayMs, type Ribbon } from '#contract';
import { dayMonth, daySpan } from '../../format/time.ts';
import { textWidth, xOn, type Axis } from './axis.ts';
import { placeBesideHaze, placeInBlock, type PlacedWords } from './labels.ts';
import { spreadSome } from './spread.ts';
import { areaBetween, outsidePlaces, runsOf, smoothLine, stepMs, type Place } from './trace.ts';

/** The picture of one cure as plain numbers: what `ribbon.tsx` draws, and what its tests read. */
export interface Frame {
  readonly axis: Axis;
  readonly height: number;
  readonly now: number;
  readonly zone: string;
  readonly textPx: number;
  /** False where there is no room for words (a phone): they then stand under the ribbon. */
  readonly words: boolean;
}

export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export interface Drawing {
  readonly now: number;
  readonly body: Box;
  readonly band: Box | null;
  readonly envelope: readonly string[];
  readonly line: readonly string[];
  readonly outside: readonly string[];
  readonly gaps: readonly Box[];
  readonly changes: readonly Place[];
  readonly changeSize: number;
  readonly tastings: readonly { readonly x: number; readonly wanted: number; readonly score: string; readonly sequence: number }[];
  readonly tastingDots: readonly number[];
  readonly ring: number;
  readonly haze: { readonly from: number; readonly likely: number; readonly to: number } | null;
  readonly rest: Box | null;
  readonly ready: Box | null;
  readonly words: readonly (PlacedWords & { readonly y: number })[];
}

/** Temperatures shown: the safe range with a third of its width above and below, stretched where readings leave that. */
const verticalScale = (ribbon: Ribbon, top: number, bottom: number): ((celsius: number) => number) => {
  const low = ribbon.band?.low ?? null;
  const high = ribbon.band?.high ?? null;
  const lows = ribbon.temperature.map(({ min }) => min);
  const highs = ribbon.temperature.map(({ max }) => max);
  const least = low ?? Math.min(...lows, (high ?? 20) - 12);
  const most = high ?? Math.max(...highs, (low ?? 8) + 12);
  const spare = (most - least) / 3;
  const from = Math.min(least - spare, ...lows.map((value) => value - spare / 4));
  const to = Math.max(most + spare, ...highs.map((value) => value + spare / 4));
  return (celsius) => bottom - ((celsius - from) / (to - from)) * (bottom - top);
};

const clamp = (value: number, low: number, high: number): number => Math.min(Math.max(value, low), high);

export const drawRibbon = (ribbon: Ribbon, { axis, height, now, zone, textPx, words }: Frame): Drawing => {
  const x = (t: number): number => clamp(xOn(axis, t), 0, axis.width);
  const ring = clamp(height * 0.105, 7, 15);
  const top = ring + 1.5;
  const changeSize = clamp(height * 0.1, 6, 14);
  const bottom = height - changeSize - 3;
  const y = verticalScale(ribbon, top, bottom);
  const span = (from: number, to: number, least = 0): Box => ({ x: x(from), y: top, width: Math.max(x(to) - x(from), least), height: bottom - top });

  const pxPerDay = axis.width / ((axis.to - axis.from) / dayMs);
  const cureEnd = ribbon.jarredAt ?? ribbon.to;
  const points = ribbon.temperature.filter(({ t }) => t >= axis.from);
  const runs = runsOf(points, ribbon.gaps, stepMs(pxPerDay, (Math.min(now, cureEnd) - ribbon.from) / dayMs));
  const along = (run: readonly { readonly t: number }[], value: (index: number) => number): Place[] => run.map(({ t }, index) => ({ x: x(t), y: y(value(index)) }));

  const outside = ribbon.outside.map((stretch) => {
    const places = outsidePlaces(points, stretch).map(({ t, value }) => ({ x: x(t), y: y(value) }));
    const middle = places[Math.floor(places.length / 2)];
    if (middle === undefined) return '';
    const wide = (places.at(-1)?.x ?? middle.x) - (places[0]?.x ?? middle.x);
    // A short excursion is still an excursion: it is never drawn thinner than it can be seen.
    return wide >= 5 ? smoothLine(places) : smoothLine([{ x: middle.x - 3, y: middle.y }, { x: middle.x + 3, y: middle.y }]);
  });

  const tastings = ribbon.tastings.filter(({ t }) => t >= axis.from && t <= axis.to).toSorted((a, b) => a.t - b.t);
  const wanted = tastings.map(({ t }) => x(t));
  const { kept, at } = spreadSome(wanted, ring * 2 + 1, ring + 1, Math.max(ring + 1, Math.min(axis.width, x(Math.min(now, cureEnd))) - ring * (ribbon.jarredAt === null ? 1 : 0)));

  const known = 'readyLikely' in ribbon.forecast && ribbon.jarredAt === null ? ribbon.forecast : null;
  // Where the picture ends the haze runs on: its depth is worked out from its true ends.
  const haze = known === null ? null : { from: xOn(axis, Date.parse(known.readyFrom)), likely: xOn(axis, Date.parse(known.readyLikely)), to: xOn(axis, Date.parse(known.readyTo)) };
  const bandTop = ribbon.band?.high == null ? top : clamp(y(ribbon.band.high), top, bottom);
  const bandBottom = ribbon.band?.low == null ? bottom : clamp(y(ribbon.band.low), top, bottom);
  const restEnd = ribbon.readyToEatAt ?? ribbon.to;
  const nowX = xOn(axis, now);

  const placed: (PlacedWords & { y: number })[] = [];
  const middle = (top + bottom) / 2;
  if (words && known !== null && haze !== null) {
    const day = dayMonth(Date.parse(known.readyLikely), zone);
    const plain = daySpan(Date.parse(known.readyFrom), Date.parse(known.readyTo), zone);
    placed.push({ ...placeBesideHaze({ strong: `likely sweet ${day}`, plain }, { strong: day, plain }, { width: axis.width, now: nowX, haze, start: x(ribbon.from), textPx }), y: middle });
  } else if (words && ribbon.jarredAt === null) {
    const plain = 'ready date not known yet';
    const fits = [Math.max(nowX, x(ribbon.to)), nowX].map((from) => from + textPx * 0.6).find((from) => from + textWidth(plain, textPx) <= axis.width);
    if (fits !== undefined) placed.push({ strong: '', plain, x: fits, anchor: 'start', plate: false, y: middle });
  }
  if (words && ribbon.jarredAt !== null) {
    const day = dayMonth(ribbon.jarredAt, zone);
    const jarred = `jarred ${day}`;
    const inRest = placeInBlock([{ strong: jarred, plain: `rests to ${dayMonth(restEnd, zone)}` }, { strong: 'jarred', plain: day }], { from: x(ribbon.jarredAt), to: x(restEnd) }, nowX, textPx);
    if (inRest !== null) placed.push({ ...inRest, y: middle });
    const isReady = restEnd <= now;
    const last = { strong: isReady ? 'ready to eat' : `ready to eat ${dayMonth(restEnd, zone)}`, plain: inRest === null ? jarred : isReady ? `since ${dayMonth(restEnd, zone)}` : '' };
    const inReady = placeInBlock([last], { from: x(restEnd), to: axis.width }, nowX, textPx);
    if (inReady !== null) placed.push({ ...inReady, y: middle });
  }

  return {
    now: nowX,
    body: span(ribbon.from, ribbon.to, 2),
    band: ribbon.band === null ? null : { ...span(ribbon.from, cureEnd, 2), y: bandTop, height: Math.max(bandBottom - bandTop, 1) },
    envelope: runs.map((run) => areaBetween(along(run, (index) => run[index]?.max ?? 0), along(run, (index) => run[index]?.min ?? 0))),
    line: runs.map((run) => smoothLine(along(run, (index) => run[index]?.mean ?? 0))),
    outside: outside.filter((path) => path !== ''),
    gaps: ribbon.gaps.filter(({ to }) => to > axis.from).map(({ from, to }) => span(from, to, 2)),
    changes: ribbon.changes.filter(({ t }) => t >= axis.from && t <= axis.to).map(({ t }) => ({ x: x(t), y: bottom + 2 })),
    changeSize,
    tastings: kept.map((index, place) => ({ x: at[place] ?? 0, wanted: wanted[index] ?? 0, score: String(Math.round(tastings[index]?.bitterness ?? 0)), sequence: tastings[index]?.sequence ?? 0 })),
    tastingDots: wanted.filter((_, index) => !kept.includes(index)),
    ring,
    haze,
    rest: ribbon.jarredAt === null ? null : span(ribbon.jarredAt, restEnd, 2),
    ready: ribbon.jarredAt === null || restEnd >= ribbon.to ? null : span(restEnd, ribbon.to),
    words: placed,
  };
};
