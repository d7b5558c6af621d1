import { triangular } from '../stats/triangular.ts';
import type { Uniform } from '../stats/seeded-uniform.ts';
import { restDays } from '../cure/batch.ts';
import { placeInDrums, type Stay } from './place-in-drums.ts';
import type { SeasonPlanInput } from './plan-input.ts';

/** What one drum and one jar take, the same in every play. */
export interface Measures {
  readonly fruitKgPerDrum: number;
  readonly brineLPerDrum: number;
  readonly saltGPerL: number;
  readonly fruitKgPerJar: number;
  readonly brineLPerJar: number;
  readonly jarSaltGPerL: number;
}

/** One season as it may turn out. */
export interface PlayedSeason {
  readonly fruitKg: number;
  readonly cleanKg: number;
  readonly fills: number;
  readonly drums: number;
  readonly drumsShort: number;
  readonly jars: number;
  readonly lids: number;
  readonly cureSaltKg: number;
  readonly jarSaltKg: number;
  readonly saltKg: number;
  readonly jarBrineL: number;
  readonly vinegarL: number;
  readonly wasteBrineL: number;
  readonly stalls: number;
  /** Days after the first pick. */
  readonly firstStallDay: number;
  readonly lastStallDay: number;
  readonly stays: readonly Stay[];
}

/** Packed a little over the line before another drum is begun (assumption). */
const overfillShare = 0.05;
/** Lids that bend or do not seal (assumption). */
const lidSpare = 0.05;
/** Brine spilled, drained and left in the pan (assumption, as for one batch). */
const brineLoss = 0.1;

/**
 * One season, played: trees → picks → drums → jars → stalls.
 *
 * kg = year × Σ tree; clean = kg × (1 - culls), in equal picks; each pick fills ⌈kg / drum⌉ drums for a cure of its own length;
 * jars = ⌊clean × (1 - final culls) / fruit per jar⌋; jar brine = jars × brine per jar × 1.1; lids = jars × 1.05;
 * cure salt = fills × brine × (brines - those of water) × g/L; waste = fills × brine × brines.
 *
 * Source: mass balance; all spreads are the caller's. A drum counts as filled to its line, so brine for one half full is overstated.
 * Units: kg, L, days. Trees differ from each other, the year is the same for all; picks of one pass do not share a drum with the next.
 */
export const playSeason = (input: SeasonPlanInput, measures: Measures, uniform: Uniform): PlayedSeason => {
  const year = triangular(input.year, uniform());
  let fruitKg = 0;
  for (let tree = 0; tree < input.treesOn; tree += 1) fruitKg += year * triangular(input.onKg, uniform());
  for (let tree = 0; tree < input.treesOff; tree += 1) fruitKg += year * triangular(input.offKg, uniform());
  const cleanKg = fruitKg * (1 - triangular(input.cullShare, uniform()));
  const fillsPerPick = drumsFor(cleanKg / input.picks, measures.fruitKgPerDrum);
  const stays: Stay[] = [];
  for (let pick = 0; pick < input.picks; pick += 1) {
    const from = pick * input.daysBetweenPicks;
    for (let fill = 0; fill < fillsPerPick; fill += 1) stays.push({ from, to: from + triangular(input.cureDays, uniform()) });
  }
  const drums = Math.max(0, ...placeInDrums(stays).map((drum) => drum + 1));
  const jars = Math.floor((cleanKg * (1 - input.jarCullShare)) / measures.fruitKgPerJar + 1e-9);
  const jarBrineL = jars * measures.brineLPerJar * (1 + brineLoss);
  const pouredL = stays.length * measures.brineLPerDrum;
  const cureSaltKg = (pouredL * (input.brinesPerDrum - input.waterChanges) * measures.saltGPerL) / 1_000;
  const vinegarL = jarBrineL * input.vinegarShare;
  const jarSaltKg = (jarBrineL * measures.jarSaltGPerL) / 1_000;
  return {
    fruitKg, cleanKg, fills: stays.length, drums, drumsShort: Math.max(0, drums - input.drums), jars, lids: Math.ceil(jars * (1 + lidSpare) - 1e-9),
    cureSaltKg, jarSaltKg, saltKg: cureSaltKg + jarSaltKg, jarBrineL, vinegarL, wasteBrineL: pouredL * input.brinesPerDrum, stays,
    ...stallsOf(input, stays, jars),
  };
};

const drumsFor = (kg: number, fruitKgPerDrum: number): number => (kg <= 0 ? 0 : Math.max(1, Math.ceil(kg / (fruitKgPerDrum * (1 + overfillShare)) - 1e-9)));

/** Sold stall by stall, as far as jars have rested: the first when the first drum has, then one at every market day. */
const stallsOf = ({ jarsPerStall, daysBetweenStalls }: SeasonPlanInput, stays: readonly Stay[], jars: number): Pick<PlayedSeason, 'stalls' | 'firstStallDay' | 'lastStallDay'> => {
  const rested = stays.map(({ to }) => to + restDays).sort((one, other) => one - other);
  const [firstStallDay] = rested;
  if (firstStallDay === undefined || jars === 0) return { stalls: 0, firstStallDay: 0, lastStallDay: 0 };
  const jarsPerDrum = jars / rested.length;
  let day = firstStallDay;
  let sold = 0;
  let stalls = 0;
  for (let at = 0; ; day += daysBetweenStalls) {
    while ((rested[at] ?? Number.POSITIVE_INFINITY) <= day) at += 1;
    const there = at * jarsPerDrum - sold;
    if (there > 0) stalls += 1;
    sold += Math.min(there, jarsPerStall);
    if (sold >= jars - 0.5) return { stalls, firstStallDay, lastStallDay: day };
  }
};
