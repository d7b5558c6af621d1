import { describe, expect, test } from 'vitest';
import { checkRecipe } from '#domain/recipe/check-recipe.ts';
import type { Span } from '#domain/recipe/span.ts';
import { contains } from '#domain/recipe/span.ts';

const only = (text: string, fruitKg?: number) => {
  const { brines } = checkRecipe(text, fruitKg);
  expect(brines).toHaveLength(1);
  const [brine] = brines;
  if (brine === undefined) throw new Error('no brine');
  return brine;
};
const has = (span: Span | null | undefined, value: number): boolean => span !== null && span !== undefined && contains(span, value);
const verdictOf = (text: string, id: string) => checkRecipe(text).rules.find((rule) => rule.id === id)?.verdict;

describe('three published versions of one recipe, table salt, 250 mL cup', () => {
  // A growers' association recipe (cups), a home page of 2010 (litres) and one of 2017 (1 cup per 5 L, 2 to finish); strengths by mass balance.
  const cups = '½ cup of table salt to 10 cups of water';
  const litres = '½ cup of table salt to 10 litres of water';

  test('in cups 5.8 %, in litres 1.5 %: the ranges do not touch', () => {
    const [strong, weak] = [only(cups).pouredPercentWw, only(litres).pouredPercentWw];
    expect(has(strong, 5.8)).toBe(true);
    expect(has(weak, 1.5)).toBe(true);
    expect(weak?.high).toBeLessThan(2);
    expect(strong?.low).toBeGreaterThan(5);
  });

  test('only the litres are flagged, and as cups they would be the other recipe', () => {
    expect(checkRecipe(cups).slips).toEqual([]);
    expect(checkRecipe(litres).slips.join()).toMatch(/Litres may have been copied for cups: with cups it would be 5\.\d to 6\.\d %/);
    // Salt of any kind: four times weaker is seen all the same.
    expect(checkRecipe(litres.replace('table ', '')).slips).toHaveLength(1);
    expect(checkRecipe(cups.replace('table ', '')).slips).toEqual([]);
  });

  test('5.8 % and 11.0 % to finish: the second is where the fruit stays', () => {
    const { brines, rules } = checkRecipe('1 cup table salt per 5 L of water. To finish, 2 cups table salt per 5 L of water.');
    expect(brines.map(({ stays }) => stays)).toEqual([false, true]);
    expect(has(brines[0]?.pouredPercentWw, 5.8)).toBe(true);
    expect(has(brines[1]?.pouredPercentWw, 11)).toBe(true);
    expect(rules.filter(({ id }) => id.endsWith('-salt')).map(({ id, verdict }) => `${id} ${verdict}`)).toEqual(['cure-salt outside', 'kept-salt unknown']);
  });

  test('weak, no acid, under oil, a year in the pantry: each is named with its source', () => {
    const { rules, cautions } = checkRecipe(`${litres}. To finish, 1 cup of table salt to 10 litres of water. Cover with a layer of olive oil. Keeps a year in the pantry.`);
    expect(Object.fromEntries(rules.map(({ id, verdict }) => [id, verdict]))).toEqual({ 'cure-salt': 'outside', 'kept-salt': 'outside', acid: 'misses', 'packed-ph': 'unknown', 'oil-layer': 'outside', 'shelf-time': 'outside' });
    for (const { source, found } of rules) expect([source, found].join(' ')).toMatch(/\w{3}.* \w/);
    expect(cautions.join()).toMatch(/Oil shuts out air/);
  });
});

describe('worked by hand', () => {
  // A quarter cup to a US quart, by kind of salt: 7.2, 6.0 and 3.4 % (published cup weights, mass balance).
  test.each([['table', 7.2], ['coarse kosher', 6], ['light flake kosher', 3.4]])('¼ cup of %s salt in a US quart holds %s %', (kind, percent) => {
    const { pouredPercentWw } = only(`¼ US cup of ${kind} salt per US quart of water`);
    expect(has(pouredPercentWw, percent)).toBe(true);
    expect((pouredPercentWw?.high ?? 0) - (pouredPercentWw?.low ?? 0)).toBeLessThan(1);
  });

  test('26.5 L at 10 % on 28.6 kg settles from 6.0 to 7.1 %, rounded (mass balance over published stone and flesh water)', () => {
    const { settledPercentWw, fruit } = only('26.5 L of 10 % brine', 28.6);
    expect(fruit).toBe('given');
    expect(has(settledPercentWw, 6.05)).toBe(true);
    expect(has(settledPercentWw, 7.05)).toBe(true);
    // A tenth of the fruit takes a tenth of the salt, or less.
    expect(only('26.5 L of 10 % brine', 10).settledPercentWw?.low).toBeGreaterThan(settledPercentWw?.low ?? 99);
  });

  test('10 parts of brine to 1 of 5 % vinegar: 0.45 % acetic poured, 0.29 % settled', () => {
    const { aceticPouredPercent, aceticSettledPercent } = only('10 parts of 8 % brine to 1 part of 5 % vinegar');
    expect(aceticPouredPercent?.low).toBeCloseTo(0.4545, 3);
    expect(aceticPouredPercent?.high).toBeCloseTo(0.4545, 3);
    expect(has(aceticSettledPercent, 0.29)).toBe(true);
    // Not stated: 4 to 6 %.
    const open = only('10 parts of 8 % brine to 1 part vinegar').aceticPouredPercent;
    expect([open?.low, open?.high].map((value) => value?.toFixed(3))).toEqual(['0.364', '0.545']);
  });

  test('a cup is one cup throughout: its size cancels, the kind of salt does not', () => {
    // ½ · 273 / (½ · 273 + 10 · 236.6 · 0.9982) and the same of 302.
    const { pouredPercentWw } = only('½ cup table salt to 10 cups of water');
    expect(pouredPercentWw?.low).toBeCloseTo(5.46, 2);
    expect(pouredPercentWw?.high).toBeCloseTo(6.01, 2);
  });

  test('8 oz to a US gallon is 5.66 % (227 g to 3,779 g)', () => {
    const { pouredPercentWw } = only('8 oz salt, 1 US gallon of water');
    expect(pouredPercentWw?.low).toBeCloseTo(5.66, 2);
    expect(pouredPercentWw?.high).toBeCloseTo(5.66, 2);
  });
});

describe('what is not known stays unknown', () => {
  test.each(['a handful of salt in 5 L water', '1 cup salt and a handful of salt in 5 L water', 'salt to taste, 5 L water', 'Salt\n10 cups water', '1 cup salt', '1 cup salt, 2 L water, a splash of vinegar', '3-2 cups salt in 5 L water', 'Salt the water until an egg floats'])('%j has no strength and says why', (text) => {
    const { brines, rules } = checkRecipe(text);
    expect(brines.map(({ pouredPercentWw, settledPercentWw }) => pouredPercentWw ?? settledPercentWw)).toEqual([null]);
    expect(brines[0]?.note).toMatch(/^Not worked out/);
    expect(rules.find(({ id }) => id === 'kept-salt')?.verdict).toBe('unknown');
  });

  test('the pH, with acid and without', () => {
    for (const text of ['1 cup salt in 2 L water', '1 kg salt in 10 L water, 5 L vinegar', '']) expect(verdictOf(text, 'packed-ph')).toBe('unknown');
    expect(verdictOf('1 cup salt in 2 L water', 'acid')).toBe('misses');
    expect(verdictOf('1 cup salt in 2 L water, 1 lemon', 'acid')).toBe('unknown');
  });

  test('fruit that the brine cannot cover is not used, and that is said', () => {
    const { fruit, note } = only('½ cup table salt to 10 cups of water', 28.6);
    expect(fruit).toBe('usual');
    expect(note).toMatch(/does not go with this much brine/);
    expect(only('1 kg salt in 10 L water').note).toMatch(/^No weight of fruit/);
  });
});

describe('rules', () => {
  test('settled salt on both sides of 6 % (CXS 66-1981)', () => {
    expect(verdictOf('1 kg salt in 5 L water for 5 kg olives', 'kept-salt')).toBe('inside');
    expect(verdictOf('100 g salt in 5 L water for 5 kg olives', 'kept-salt')).toBe('outside');
    expect(verdictOf('500 g salt in 5 L water for 5 kg olives', 'kept-salt')).toBe('unknown');
    expect(verdictOf('Cover with 5 L water', 'kept-salt')).toBe('misses');
  });

  test('plain water is changed daily (home curing guidance)', () => {
    expect(verdictOf('Soak in plain water, changed daily. 1 kg salt in 10 L water', 'plain-water')).toBe('inside');
    expect(verdictOf('Soak in plain water, changed weekly. 1 kg salt in 10 L water', 'plain-water')).toBe('outside');
    expect(verdictOf('Soak in plain water. 1 kg salt in 10 L water', 'plain-water')).toBe('unknown');
    // Stirring is no change, and "daily, then weekly" does not say which of them is the water.
    expect(verdictOf('Soak in plain water, stir daily. 1 kg salt in 10 L water', 'plain-water')).toBe('unknown');
    expect(verdictOf('Soak in plain water, changed daily. 1 kg salt in 10 L water, changed weekly', 'plain-water')).toBe('unknown');
    expect(verdictOf('1 kg salt, 10 L', 'plain-water')).toBeUndefined();
  });

  test('oil and garlic', () => {
    expect(verdictOf('1 kg salt, 10 L water, garlic', 'garlic-in-oil')).toBeUndefined();
    expect(verdictOf('1 kg salt, 10 L water, garlic, 1 cup olive oil', 'garlic-in-oil')).toBe('outside');
    expect(verdictOf('1 kg salt, 10 L water, 1 L vinegar, olive oil on top', 'oil-layer')).toBe('unknown');
    expect(verdictOf('1 kg salt, 10 L water, no vinegar, olive oil on top', 'oil-layer')).toBe('outside');
  });

  test('the salt belongs to the litres it stands with, not to the soak before', () => {
    const { brines } = checkRecipe('Soak in 20 L of water. Then 100 g salt per 1 L water.');
    expect(brines.map(({ pouredPercentWw }) => pouredPercentWw?.high.toFixed(1))).toEqual(['0.0', '9.1']);
  });

  test('water added to a brine thins it; water after draining is another', () => {
    const poured = (text: string) => checkRecipe(text).brines.map(({ pouredPercentWw }) => pouredPercentWw?.high.toFixed(1));
    // 100 g in 1 L would be 9.1 %; with the 4 L it is 100 / (100 + 4991) = 2.0 %.
    expect(poured('100 g salt dissolved in 1 litre of boiling water, then add 4 litres of cold water')).toEqual(['2.0']);
    expect(poured('100 g salt in 1 litre of water. Drain. 4 litres of water')).toEqual(['9.1', '0.0']);
    expect(poured('100 g salt in 1 litre of water, 4 litres of fresh water')).toEqual(['9.1', '0.0']);
    expect(poured('1 L water, 100 g salt. 4 L water, 100 g salt')).toEqual(['9.1', '2.4']);
  });

  test('grams a litre, however they are written', () => {
    for (const text of ['100 g/L of salt', '100 g salt per litre of brine', '100g salt/1L', '100g/L salt brine']) {
      // 100 g in a litre of water are 9.1 %, in a litre of finished brine 9.4 (CRC: 1.067 g/mL).
      expect(only(text).pouredPercentWw?.low, text).toBeCloseTo(9.1, 1);
      expect(only(text).pouredPercentWw?.high, text).toBeCloseTo(9.37, 1);
    }
  });

  test('a liquid that is not known may thin the brine, so nothing is said; herbs and grams of anything do not', () => {
    expect(only('1 kg salt, 10 L water, 2 cups vodka').note).toMatch(/^Not worked out. "2 cups vodka": not an ingredient known here/);
    expect(only('1 kg salt, 10 L water, 2 cups chopped celery, 20 g capsicum').pouredPercentWw?.high).toBeCloseTo(9.1, 1);
  });

  test('a handful spoils the brine it stands with and no other', () => {
    const poured = (text: string) => checkRecipe(text).brines.map(({ pouredPercentWw }) => pouredPercentWw !== null);
    expect(poured('½ cup salt to 10 cups water\nA handful of salt\nTo finish: 1 cup salt to 10 cups water')).toEqual([false, true]);
    expect(poured('½ cup salt to 10 cups water. To finish: a handful of salt in 10 cups water')).toEqual([true, false]);
    // No salt is measured anywhere: not even the soak is taken for plain water.
    expect(poured('Soak in 5 L water. Then a handful of salt in 5 L water')).toEqual([false, false]);
  });

  test('vinegar thins the brine, and so does lemon juice', () => {
    const plain = only('1 kg salt, 10 L water').pouredPercentWw;
    for (const liquid of ['1 L vinegar', '1 L lemon juice']) expect(only(`1 kg salt, 10 L water, ${liquid}`).pouredPercentWw?.high).toBeLessThan(plain?.low ?? 0);
  });
});
