import { brineStrength } from '../brine/bases.ts';
import { drumFill } from '../jar/brine-displacement.ts';
import { jarFill } from '../jar/jar-fill.ts';
import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import { quantileOfSorted } from '../stats/quantile.ts';
import type { Uniform } from '../stats/seeded-uniform.ts';
import type { OutsideValidRange } from '../valid-range.ts';
import { outsideValidRange } from '../valid-range.ts';
import { findUnplannable, type SeasonPlanInput } from './plan-input.ts';
import { playSeason, type Measures, type PlayedSeason } from './play-season.ts';

/** One season in ten is below `p10`, one in ten above `p90`. */
export interface Band {
  readonly p10: number;
  readonly p50: number;
  readonly p90: number;
}

export const planFigures = [
  'fruitKg', 'cleanKg', 'fills', 'drums', 'drumsShort', 'jars', 'lids', 'cureSaltKg', 'jarSaltKg', 'jarBrineL', 'vinegarL', 'wasteBrineL', 'stalls', 'firstStallDay', 'lastStallDay',
] as const satisfies readonly (keyof PlayedSeason)[];
export type PlanFigure = (typeof planFigures)[number];

export interface SeasonPlan {
  readonly runs: number;
  readonly figures: Readonly<Record<PlanFigure, Band>>;
  /** Drums with fruit in them at some time of the week, from the week of the first pick. */
  readonly weeks: readonly Band[];
  /** The share of seasons in which the drums there are do not do. */
  readonly shortChance: number;
  /** Enough in four seasons of five, each thing by itself, rounded up. */
  readonly shopping: { readonly drums: number; readonly saltKg: number; readonly jars: number; readonly lids: number; readonly vinegarL: number };
  /** What one drum takes, filled to its working line. */
  readonly measures: Measures;
}

export const seasonRuns = 1_000;
const shoppingShare = 0.8;
/** A plan for a shed, not for a factory: above this the working out takes too long. */
const mostFills = 400;

/** The standing drum: 60 L, 40 cm wide, filled to nine tenths under 5 cm of brine; others have its proportions (assumption). */
const standing = { drumL: 60, innerDiameterCm: 40, filledShare: 0.9, coverCm: 5 } as const;

/**
 * The next season, played a thousand times: what comes in the middle, and what in one season of ten.
 *
 * Source: Monte Carlo over `playSeason`; quantiles by `quantileOfSorted`. Deterministic by the source of numbers handed in.
 * Example without any spread: 8 trees of 18 kg and 6 of 7 kg, 8 % culls: 171 kg, 6 drums, 419 jars, 440 lids, 123 L of jar brine,
 * 25 L of vinegar at a fifth of it; salt at 10 %: 17 kg for one brine a drum, 170 kg for ten, and 1,590 L to get rid of.
 */
export const planSeason = (input: SeasonPlanInput, uniform: Uniform, runs: number = seasonRuns): Result<SeasonPlan, OutsideValidRange> => {
  const unplannable = findUnplannable(input);
  if (unplannable !== null) return unplannable;
  const measured = measuresOf(input);
  if (!measured.ok) return measured;
  const measures = measured.value;
  const mostKg = (input.treesOn * input.onKg.high + input.treesOff * input.offKg.high) * input.year.high;
  if (mostKg / measures.fruitKgPerDrum > mostFills) return outsideValidRange('treesOn', `so many trees may fill more than ${mostFills} drums of this size: plan a part of them`);

  const played = Array.from({ length: runs }, () => playSeason(input, measures, uniform));
  const column = (value: (season: PlayedSeason) => number): Float64Array => Float64Array.from(played, value).sort();
  const band = (value: (season: PlayedSeason) => number): Band => {
    const sorted = column(value);
    return { p10: quantileOfSorted(sorted, 0.1), p50: quantileOfSorted(sorted, 0.5), p90: quantileOfSorted(sorted, 0.9) };
  };
  const enough = (value: (season: PlayedSeason) => number): number => Math.ceil(quantileOfSorted(column(value), shoppingShare) - 1e-9);
  return ok({
    runs,
    figures: Object.fromEntries(planFigures.map((figure) => [figure, band((season) => season[figure])])) as Record<PlanFigure, Band>,
    weeks: weeksOf(played, band),
    shortChance: played.filter(({ drumsShort }) => drumsShort > 0).length / runs,
    shopping: { drums: enough(({ drumsShort }) => drumsShort), saltKg: enough(({ saltKg }) => saltKg), jars: enough(({ jars }) => jars), lids: enough(({ lids }) => lids), vinegarL: enough(({ vinegarL }) => vinegarL) },
    measures,
  });
};

const weekDays = 7;

/** Up to the last week in which one season of ten still has fruit in a drum. */
const weeksOf = (played: readonly PlayedSeason[], band: (value: (season: PlayedSeason) => number) => Band): readonly Band[] => {
  const last = played.reduce((latest, { stays }) => stays.reduce((most, { to }) => Math.max(most, to), latest), 0);
  const weeks: Band[] = [];
  for (let from = 0; from < last; from += weekDays) weeks.push(band(({ stays }) => busiest(stays, from, from + weekDays)));
  return weeks.slice(0, weeks.findLastIndex(({ p90 }) => p90 > 0) + 1);
};

/** The most drums at one moment of a span; it is reached at its start or where fruit goes in. */
const busiest = (stays: PlayedSeason['stays'], from: number, to: number): number => {
  const at = (moment: number): number => stays.filter((stay) => stay.from <= moment && stay.to > moment).length;
  const starts = new Set(stays.map((stay) => stay.from).filter((start) => start > from && start < to));
  return Math.max(at(from), ...[...starts].map(at));
};

const measuresOf = ({ drumL, brinePercentWw, jarMl, jarBrinePercentWw }: SeasonPlanInput): Result<Measures, OutsideValidRange> => {
  const drum = drumFill({ innerDiameterCm: standing.innerDiameterCm * Math.cbrt(drumL / standing.drumL), filledL: drumL * standing.filledShare, coverCm: standing.coverCm });
  if (!drum.ok) return drum;
  const brine = brineStrength(brinePercentWw, 20);
  if (!brine.ok) return brine;
  const jar = jarFill(jarMl);
  if (!jar.ok) return jar;
  const jarBrine = brineStrength(jarBrinePercentWw, 20);
  if (!jarBrine.ok) return jarBrine;
  return ok({
    fruitKgPerDrum: drum.value.fruitKg, brineLPerDrum: drum.value.brineL, saltGPerL: brine.value.gPerL,
    fruitKgPerJar: jar.value.fruitKg, brineLPerJar: jar.value.brineMl / 1_000, jarSaltGPerL: jarBrine.value.gPerL,
  });
};
