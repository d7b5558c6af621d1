import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { gramsPerCup, saltKinds } from '#domain/brine/salt-kind.ts';
import { checkRecipe } from '#domain/recipe/check-recipe.ts';
import { longestText, readRecipe } from '#domain/recipe/read-recipe.ts';
import type { Span } from '#domain/recipe/span.ts';

const usCupL = 0.2365882365;
const share = fc.double({ min: 0, max: 1, noNaN: true });
const between = ({ low, high }: Span, at: number): number => low + (high - low) * at;
const count = fc.integer({ min: 1, max: 12 });

/** How each kind of salt is written, and what its cup weighs in some kitchen. */
const written = { table: 'table salt', pickling: 'pickling salt', 'coarse-rolled-kosher': 'coarse kosher salt', 'light-flake-kosher': 'light flake kosher salt', 'coarse-sea-salt': 'coarse sea salt' } as const;

describe('whatever a kitchen makes of a recipe lies in its spans', () => {
  test('salt by cups or spoons in litres or cups of water, with vinegar, on fruit', () => {
    fc.assert(
      fc.property(
        fc.record({
          kind: fc.constantFrom(...saltKinds), isNamed: fc.boolean(), saltUnit: fc.constantFrom('cup', 'tbsp'), salt: count, saltMore: fc.integer({ min: 0, max: 3 }),
          waterUnit: fc.constantFrom('cups', 'L'), water: fc.integer({ min: 8, max: 30 }), vinegar: fc.integer({ min: 0, max: 4 }), vinegarPercent: fc.constantFrom(null, 5, 7),
          fruitShare: share, cup: share, spoon: share, weight: share, saltAt: share, acid: share, stone: share, moisture: share,
        }),
        (made) => {
          const cupL = between({ low: usCupL, high: 0.25 }, made.cup);
          const spoonL = between({ low: usCupL / 16, high: 0.02 }, made.spoon);
          const range = made.saltMore === 0 ? String(made.salt) : `${String(made.salt)}–${String(made.salt + made.saltMore)}`;
          const text = [
            `${range} ${made.saltUnit} ${made.isNamed ? written[made.kind] : 'salt'}`,
            `${String(made.water)} ${made.waterUnit} of water`,
            ...(made.vinegar === 0 ? [] : [`${String(made.vinegar)} cups of ${made.vinegarPercent === null ? '' : `${String(made.vinegarPercent)} % `}vinegar`]),
          ].join('\n');
          const saltKg = between({ low: made.salt, high: made.salt + made.saltMore }, made.saltAt) * (made.saltUnit === 'cup' ? cupL : spoonL) * (between(gramsPerCup[made.kind], made.weight) / 1_000 / usCupL);
          const vinegarL = made.vinegar * cupL;
          const waterL = made.water * (made.waterUnit === 'cups' ? cupL : 1);
          const waterKg = (waterL + vinegarL) * 0.9982;
          const fruitKg = (waterL + vinegarL) * between({ low: 0.8, high: 1.2 }, made.fruitShare);
          const fleshKg = fruitKg * (1 - between({ low: 0.12, high: 0.25 }, made.stone)) * between({ low: 0.55, high: 0.75 }, made.moisture);
          const aceticG = vinegarL * 10 * (made.vinegarPercent ?? between({ low: 4, high: 6 }, made.acid));
          const [brine] = checkRecipe(text, fruitKg).brines;
          expect(brine?.fruit).toBe('given');
          const inside = (span: Span | null | undefined, value: number): void => {
            // The density of water is taken to a few figures here.
            expect(value).toBeGreaterThanOrEqual((span?.low ?? Infinity) * 0.9998);
            expect(value).toBeLessThanOrEqual((span?.high ?? -Infinity) * 1.0002);
          };
          inside(brine?.pouredPercentWw, (100 * saltKg) / (saltKg + waterKg));
          inside(brine?.settledPercentWw, (100 * saltKg) / (saltKg + waterKg + fleshKg));
          if (made.vinegar > 0) {
            inside(brine?.aceticPouredPercent, aceticG / (10 * (waterL + vinegarL)));
            inside(brine?.aceticSettledPercent, aceticG / (10 * (waterL + vinegarL + fleshKg)));
          }
        },
      ),
      { numRuns: 300 },
    );
  });

  test('naming the salt never widens what is poured', () => {
    for (const kind of saltKinds) {
      const [named] = checkRecipe(`1 cup ${written[kind]}, 3 L water`).brines;
      const [open] = checkRecipe('1 cup salt, 3 L water').brines;
      expect(named?.pouredPercentWw?.low).toBeGreaterThanOrEqual(open?.pouredPercentWw?.low ?? Infinity);
      expect(named?.pouredPercentWw?.high).toBeLessThanOrEqual(open?.pouredPercentWw?.high ?? 0);
    }
  });
});

const crumbs = fc.constantFrom('1', '½', '1/2', '1/0', '.5', '1,000', '2-3', '-', '+', '/', '(', ')', '%', ':', '.', ',', '\n', ' ', 'a', 'and', 'half', 'per', 'to', 'in', 'cup', 'cups', 'L', 'T', 'g', 'gal', 'parts', 'level', 'heaped', 'fl', 'oz', 'salt', 'kosher', 'water', 'vinegar', 'brine', 'olives', 'oil', 'garlic', 'handful', 'egg', 'taste', 'jars', 'finish', 'soak', 'daily', 'US', 'imperial', '1e9', '99999999', '__proto__', 'constructor');
const scraps = fc.array(crumbs, { maxLength: 120 }).map((parts) => parts.join(' '));

test('any text is answered: plain spans the right way round, every line accounted for', () => {
  fc.assert(
    fc.property(fc.oneof(scraps, scraps.map((text) => text.repeat(60).slice(0, longestText)), fc.string({ unit: 'binary', maxLength: 300 })), fc.option(fc.double({ min: 0.01, max: 20_000, noNaN: true })), (text, fruitKg) => {
      const { brines, lines, rules } = checkRecipe(text, fruitKg);
      for (const { pouredPercentWw, settledPercentWw, aceticPouredPercent, aceticSettledPercent, note } of brines) {
        for (const span of [pouredPercentWw, settledPercentWw, aceticPouredPercent, aceticSettledPercent]) {
          if (span === null) continue;
          expect(Number.isFinite(span.low) && Number.isFinite(span.high) && span.low >= 0 && span.low <= span.high && span.high <= 100).toBe(true);
        }
        if (pouredPercentWw === null) expect(note).toMatch(/^(?:Not worked out|Only the first)/);
        // Fruit only takes salt, unless an earlier brine gave it some.
        else if (brines.length === 1) expect(settledPercentWw?.high ?? 101).toBeLessThanOrEqual(pouredPercentWw.high + 1e-9);
      }
      const asWritten = readRecipe(text).lines.map((line) => line.trim()).filter((line) => line !== '');
      expect(lines.map((line) => line.text)).toEqual(asWritten);
      expect(rules.find(({ id }) => id === 'packed-ph')?.verdict).toBe('unknown');
    }),
    { numRuns: 400 },
  );
});
