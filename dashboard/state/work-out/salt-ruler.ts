import { rangeWords } from './recipe-tool.ts';
import { ticks, type Scale } from './picture.ts';
import type { CheckedRecipe } from './tool.ts';

export interface RulerBar {
  readonly brine: string;
  readonly what: 'poured' | 'settles';
  readonly low: number;
  readonly high: number;
}

/** The brines of a recipe on one scale of salt, with what the rules ask for. */
export interface SaltRuler {
  readonly scale: Scale;
  readonly bars: readonly RulerBar[];
  readonly marks: readonly { readonly at: number; readonly label: string }[];
  /** What published home recipes pour. */
  readonly usual: { readonly low: number; readonly high: number };
  readonly summary: string;
}

/** Null when nothing could be worked out. */
export const saltRuler = ({ brines, rules, usualPouredPercentWw: usual }: CheckedRecipe): SaltRuler | null => {
  const bars = brines.flatMap(({ name, pouredPercentWw, settledPercentWw }): RulerBar[] => [
    ...(pouredPercentWw === null ? [] : [{ brine: name, what: 'poured' as const, ...pouredPercentWw }]),
    ...(settledPercentWw === null ? [] : [{ brine: name, what: 'settles' as const, ...settledPercentWw }]),
  ]);
  if (bars.length === 0) return null;
  const least = [...new Set(rules.flatMap(({ leastPercentWw }) => (leastPercentWw === undefined ? [] : [leastPercentWw])))].toSorted((one, other) => one - other);
  const to = Math.max(usual.high + 1, ...bars.map(({ high }) => high + 0.5));
  const told = bars.map(({ brine, what, low, high }) => `${brine} ${what} ${rangeWords({ low, high }, 1)} %`).join('; ');
  return {
    scale: { from: 0, to, ticks: ticks(0, to, 7) },
    bars, usual,
    marks: least.map((at) => ({ at, label: `${at.toFixed(1).replace('.0', '')} %` })),
    summary: `Salt on a ruler: ${told}. The rules ask for ${least.map((at) => `${at.toFixed(1).replace('.0', '')} %`).join(' and ')}; published home recipes pour ${rangeWords(usual, 1)} %.`,
  };
};
