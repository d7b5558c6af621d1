/** Salt by how it pours: a cup of one weighs twice a cup of another, so a recipe in cups means nothing without the kind. */
export const saltKinds = ['table', 'pickling', 'coarse-rolled-kosher', 'light-flake-kosher', 'coarse-sea-salt'] as const;
export type SaltKind = (typeof saltKinds)[number];

export interface Spread {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/**
 * Grams in one level US cup (236.6 mL), with the spread of the figures found; packing adds about 5 % of its own.
 *
 * Source: table 273 to 292 and light flake 135 to 150 from conversion pages (second copies); pickling 288 to 302 and coarse rolled 225 to 241
 * from a salt maker's conversion chart; coarse sea salt from memory, and it varies most, with the grain. Weighing always beats the table.
 */
export const gramsPerCup: Readonly<Record<SaltKind, Spread>> = {
  table: { value: 288, low: 273, high: 302 },
  pickling: { value: 292, low: 283, high: 302 },
  'coarse-rolled-kosher': { value: 240, low: 225, high: 252 },
  'light-flake-kosher': { value: 140, low: 131, high: 150 },
  'coarse-sea-salt': { value: 240, low: 200, high: 290 },
};

export const saltKindSource = "Published cup weights by kind of salt (makers' conversion charts and kitchen tables); weigh your own";

/** Grams per scoop from the grower's own weighings of one level scoop of their salt: mean, smallest and largest. Needs at least one. */
export const scoopWeight = (weighingsG: readonly [number, ...number[]]): Spread => ({
  value: weighingsG.reduce((sum, grams) => sum + grams, 0) / weighingsG.length,
  low: Math.min(...weighingsG),
  high: Math.max(...weighingsG),
});
