import type { Shed } from '../journal/shed.ts';
import { mean } from '../stats/moments.ts';
import { alternateBearingIndex } from './alternate-bearing.ts';
import { massOf } from './pick.ts';
import { pickBalance } from './pick-balance.ts';
import { seasonsOf } from './seasons.ts';
import type { TreeLoad } from './tree-load.ts';
import { markedTree, treesNamed } from './trees.ts';

export interface TreeYear {
  readonly year: number;
  readonly kg: number | null;
  readonly load: TreeLoad | null;
  /** Written down for the tree, weighed for it alone, or its even part of fruit weighed together. */
  readonly from: 'written' | 'weighed' | 'shared';
  /** Heavy or light for this tree; null where it is steady, or there is nothing to compare with. */
  readonly bearing: 'on' | 'off' | null;
}

export interface TreeYears {
  readonly tree: string;
  readonly years: readonly TreeYear[];
  /** Over the last unbroken run of years with kilograms, two or more; null otherwise. */
  readonly alternateBearing: number | null;
  /** The opposite of its last year where it swings; null where it does not, or is not known. */
  readonly nextYear: 'on' | 'off' | null;
}

/** Below this a tree is called steady (assumption). */
export const steadyBelow = 0.15;

/** What every tree bore, year by year: what was written for it wins over what its picks weighed. Fruit weighed together is split evenly. */
export const treeYearsOf = (shed: Shed, zone: string): readonly TreeYears[] => {
  const years = new Map<string, Map<number, Omit<TreeYear, 'bearing'>>>();
  const of = (tree: string): Map<number, Omit<TreeYear, 'bearing'>> => years.get(tree) ?? (years.set(tree, new Map()).get(tree) as Map<number, Omit<TreeYear, 'bearing'>>);
  const weigh = (year: number, trees: readonly string[], kg: number): void => {
    for (const tree of trees) {
      const before = of(tree).get(year);
      of(tree).set(year, { year, kg: (before?.kg ?? 0) + kg / trees.length, load: null, from: trees.length > 1 || before?.from === 'shared' ? 'shared' : 'weighed' });
    }
  };
  for (const { year, picks, batches } of seasonsOf(shed, zone)) {
    for (const pick of picks) weigh(year, pick.trees.map((mark) => markedTree(mark, pick.variety)), massOf(pick) ?? pickBalance(pick, batches).inBatchesKg);
    for (const { trees, opened, from, picks: shares } of batches) if (trees !== null && from === null && shares.length === 0) weigh(year, treesNamed(trees), opened.fruitKg);
  }
  for (const { tree, year, kg, load } of shed.treeLoads.values()) of(tree).set(year, { year, kg: kg ?? of(tree).get(year)?.kg ?? null, load: load ?? null, from: 'written' });
  return [...years].map(([tree, byYear]) => treeOf(tree, [...byYear.values()].sort((one, other) => one.year - other.year))).sort((one, other) => inOrder(one.tree, other.tree));
};

const treeOf = (tree: string, known: readonly Omit<TreeYear, 'bearing'>[]): TreeYears => {
  const weights = known.flatMap(({ kg }) => (kg === null ? [] : [kg]));
  const middle = weights.length >= 2 ? mean(weights) : null;
  const index = alternateBearingIndex(lastRun(known));
  const alternateBearing = index.ok ? index.value : null;
  const isSteady = alternateBearing !== null && alternateBearing < steadyBelow;
  const years = known.map((one): TreeYear => ({ ...one, bearing: isSteady ? null : bearingOf(one, middle) }));
  const last = years.at(-1)?.bearing ?? null;
  return { tree, years, alternateBearing, nextYear: last === null ? null : last === 'on' ? 'off' : 'on' };
};

const bearingOf = ({ kg, load }: Pick<TreeYear, 'kg' | 'load'>, middle: number | null): 'on' | 'off' | null => {
  if (load !== null) return load >= 2 ? 'on' : 'off';
  return kg === null || middle === null ? null : kg >= middle ? 'on' : 'off';
};

const lastRun = (years: readonly Omit<TreeYear, 'bearing'>[]): readonly number[] => {
  const run: number[] = [];
  let expected: number | null = null;
  for (const { year, kg } of years.toReversed()) {
    if (kg === null || (expected !== null && year !== expected)) break;
    run.unshift(kg);
    expected = year - 1;
  }
  return run;
};

/** Variety first, then by number: Picual 2 before Picual 10. */
const inOrder = (one: string, other: string): number => {
  const [left, right] = [one, other].map((name) => /^(.*?)\s*(\d*)$/.exec(name) ?? []);
  const [words, otherWords] = [left?.[1] ?? '', right?.[1] ?? ''];
  return words === otherWords ? Number(left?.[2] ?? 0) - Number(right?.[2] ?? 0) : words < otherWords ? -1 : 1;
};
