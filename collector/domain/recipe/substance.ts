import type { SaltName } from './unknown.ts';

/** What a recipe measures, as far as it matters for the brine. */
export const substances = ['salt', 'water', 'vinegar', 'brine', 'fruit', 'oil', 'other-acid', 'other-liquid', 'garlic', 'other'] as const;
export type Substance = (typeof substances)[number];

const patterns: readonly (readonly [Substance, RegExp])[] = [
  ['oil', /^oils?$/],
  ['vinegar', /^vinegars?$/],
  ['other-acid', /^(?:lemons?|limes?|citric|lactic|tartaric|acid)$/],
  ['other-liquid', /^(?:juice|wine|beer|cider|whey|milk)$/],
  ['garlic', /^garlic$/],
  ['brine', /^(?:brine|brines|solution)$/],
  ['salt', /^(?:salts?|nacl|chloride|kosher)$/],
  ['water', /^water$/],
  ['fruit', /^(?:olives?|fruits?)$/],
  ['other', /^(?:sugar|honey|herbs?|oregano|fennel|bay|leaf|leaves|thyme|rosemary|chill?i(?:es|s)?|chile|pepper(?:s|corns?)?|coriander|cumin|sprigs?|cloves?|dill|zest|peel|orange|mustard|seeds?|parsley|mint|celery|carrots?|onions?|tomato(?:es)?|capers?)$/],
];

const substanceOfWord = (word: string): Substance | null => patterns.find(([, pattern]) => pattern.test(word))?.[0] ?? null;

/** The substance some words name: the first of the list above that is among them, so `olive oil` is oil and `salt brine` is brine. */
export const substanceIn = (words: readonly string[]): Substance | null => {
  const found = new Set(words.map((word) => substanceOfWord(word)));
  return patterns.find(([substance]) => found.has(substance))?.[0] ?? null;
};

/** The substance named last: what stands nearest in front of a number. */
export const nearestSubstance = (words: readonly string[]): Substance | null => {
  const last = words.findLast((word) => substanceOfWord(word) !== null);
  return last === undefined ? null : substanceOfWord(last);
};

/** The kind of salt some words name. Sea salt may be fine or coarse, so it alone says nothing. */
export const saltNameIn = (words: readonly string[]): SaltName => {
  const has = (pattern: RegExp): boolean => words.some((word) => pattern.test(word));
  if (has(/^(?:pickling|canning|preserving)$/)) return 'pickling';
  if (has(/^(?:table|iodi[sz]ed)$/)) return 'table';
  if (has(/^kosher$/)) return has(/^(?:flakes?|flaked|flaky|light)$/) ? 'light-flake-kosher' : has(/^(?:coarse|rolled)$/) ? 'coarse-rolled-kosher' : 'kosher';
  if (has(/^(?:coarse|rock)$/)) return has(/^sea$/) ? 'coarse-sea-salt' : has(/^rock$/) ? 'any' : 'coarse';
  return 'any';
};
