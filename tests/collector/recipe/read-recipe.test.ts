import { describe, expect, test } from 'vitest';
import { gramsPerCup, saltKinds } from '#domain/brine/salt-kind.ts';
import { checkedLines } from '#domain/recipe/line-words.ts';
import { readRecipe } from '#domain/recipe/read-recipe.ts';
import { measureSpan, saltDensity } from '#domain/recipe/unknown.ts';

/** Each amount as `low-high unit substance`. */
const amountsOf = (text: string): readonly string[] =>
  readRecipe(text).items.flatMap((item) => {
    if (item.kind !== 'amount') return [];
    const { count, unit, substance } = item.amount;
    return [`${count.low === count.high ? String(count.low) : `${String(count.low)}-${String(count.high)}`} ${unit.name} ${substance}`];
  });
const refusalsOf = (text: string): readonly string[] => readRecipe(text).items.flatMap((item) => (item.kind === 'refusal' ? [item.refusal.code] : []));

describe('numbers as people write them (common practice, no source)', () => {
  test.each([
    // A mixed number ends with its line: read across it would be 10.5 cups.
    ['Serves 10\n½ cup salt', ['0.5 cup salt']],
    ['Serves 10\r\n1/2 cup salt', ['0.5 cup salt']],
    ['Serves 10\u2028½ cup salt', ['0.5 cup salt']],
    ['10 ½ cups salt', ['10.5 cup salt']],
    ['1½ cups salt', ['1.5 cup salt']],
    ['1-1/2 cups salt', ['1.5 cup salt']],
    ['.5 cup salt', ['0.5 cup salt']],
    ['Dissolve.5 cups salt', ['5 cup salt']],
    ['1 and 1/2 cups salt', ['1.5 cup salt']],
    ['1 & ½ cups salt', ['1.5 cup salt']],
    ['one and a half cups salt', ['1.5 cup salt']],
    ['1,5 cups salt', ['1.5 cup salt']],
    ['0.25 cup salt', ['0.25 cup salt']],
    ['¼ cup salt', ['0.25 cup salt']],
    ['2–3 cups salt', ['2-3 cup salt']],
    ['2 to 3 cups salt', ['2-3 cup salt']],
    ['½-1 cup salt', ['0.5-1 cup salt']],
    ['a cup of salt', ['1 cup salt']],
    ['half a cup of salt', ['0.5 cup salt']],
    ['three quarters of a cup of salt', ['0.75 cup salt']],
    ['2 T salt', ['2 tablespoon salt']],
    ['2 t salt', ['2 teaspoon salt']],
    ['Salt: 100 g', ['100 gram salt']],
    ['100 g of coarse sea salt', ['100 gram salt']],
    // A third of a cup in two litres: salt by its use, and the litres are water or brine.
    ['1/3 cup in 2 L', [`${String(1 / 3)} cup salt`, '2 litre water']],
    ['1 cup white wine vinegar', ['1 cup vinegar']],
    ['2 cups olive oil', ['2 cup oil']],
    ['2 kg olives', ['2 kilogram fruit']],
    ['10 parts brine to 1 part vinegar', ['10 part brine', '1 part vinegar']],
    ['1 cup of sugar', ['1 cup other']],
  ])('%j is %j', (text, amounts) => {
    expect(amountsOf(text)).toEqual(amounts);
    expect(refusalsOf(text)).toEqual([]);
  });

  test('the better word in brackets wins: a weight, or the litres of a gallon', () => {
    expect(amountsOf('1 cup (240 g) salt')).toEqual(['240 gram salt']);
    expect(amountsOf('1 gallon (3.8 L) water')).toEqual(['3.8 litre water']);
    expect(amountsOf('1 cup (coarse) salt')).toEqual(['1 cup salt']);
  });

  test('a bracket that never closes ends with its line', () => {
    expect(amountsOf('1 cup salt (coarse\n10 cups water')).toEqual(['1 cup salt', '10 cup water']);
  });

  test.each([
    ['a handful of salt', 'no-measure'], ['3 handfuls salt', 'no-measure'], ['some salt', 'no-measure'], ['a splash of vinegar', 'no-measure'],
    ['salt to taste', 'to-taste'], ['a heaped cup of salt', 'not-level'], ['salt until an egg floats', 'egg'],
    ['1,000 g salt', 'doubtful-number'], ['3-2 cups salt', 'doubtful-number'], ['1/0 cup salt', 'doubtful-number'], ['1.2.3 cups salt', 'doubtful-number'],
    ['2 cups', 'what-of'],
  ])('%j is refused and nothing is guessed', (text, code) => {
    expect(refusalsOf(text)).toEqual([code]);
    expect(amountsOf(text)).toEqual([]);
    const [line] = checkedLines(readRecipe(text));
    expect(line?.understood).toBe('not-understood');
    expect(line?.words.join()).toMatch(/\w+ \w+ \w+/);
  });
});

describe('what a recipe leaves open', () => {
  test('cups, spoons and gallons (NIST Handbook 44; the metric, Australian and imperial ones from memory)', () => {
    expect(measureSpan('cup', null).low).toBeCloseTo(0.2366, 4);
    expect(measureSpan('cup', null).high).toBe(0.25);
    expect(measureSpan('cup', 'imperial').high).toBeCloseTo(0.284, 3);
    expect(measureSpan('tablespoon', null).low).toBeCloseTo(0.0148, 4);
    expect(measureSpan('tablespoon', null).high).toBe(0.02);
    expect(measureSpan('gallon', 'us').high).toBeCloseTo(3.785, 3);
    expect(readRecipe('1 imperial cup salt').system).toBe('imperial');
    expect(readRecipe('1 U.S. cup salt').system).toBe('us');
  });

  test('salt that is not named is anything from the lightest flake to the densest grain; a named kind is its own', () => {
    const any = saltDensity('any');
    // 131 and 302 g in a cup of 236.6 mL.
    expect(any.low).toBeCloseTo(0.554, 3);
    expect(any.high).toBeCloseTo(1.276, 3);
    for (const kind of saltKinds) {
      const { low, high } = saltDensity(kind);
      expect([low * 236.588, high * 236.588].map(Math.round)).toEqual([gramsPerCup[kind].low, gramsPerCup[kind].high]);
      expect(high - low).toBeLessThan(any.high - any.low);
    }
  });
});

test('each line says in words how it was understood', () => {
  const lines = checkedLines(readRecipe('Green olives\n\n½ cup table salt\n10 cups water\na handful of salt, 1 cup vinegar'));
  expect(lines.map(({ understood }) => understood)).toEqual(['nothing-measured', 'understood', 'understood', 'partly']);
  // 273 to 302 g in a US cup, by half a cup of 237 to 250 mL.
  expect(lines[1]?.words).toEqual(['salt, 137 to 160 g']);
  expect(lines[2]?.words).toEqual(['water, 2.37 to 2.5 L']);
  expect(lines[3]?.words.join()).toMatch(/handful.*not a measure.*vinegar, 237 to 250 mL/);
});
