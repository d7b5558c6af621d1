import { z } from 'zod';
import { fruitAndBrineRanges } from '#domain/cure/brine-ratio.ts';
import { checkRecipe, fruitBases } from '#domain/recipe/check-recipe.ts';
import { lineVerdicts } from '#domain/recipe/line-words.ts';
import { longestText } from '#domain/recipe/read-recipe.ts';
import { ruleVerdicts } from '#domain/recipe/rules.ts';
import { usualPouredPercent, usualSource } from '#domain/recipe/usual-strength.ts';
import { saltKindSource } from '#domain/brine/salt-kind.ts';
import { ok } from '#domain/result.ts';
import { calculator, number } from './calculator.ts';
import { recipe } from './caution.ts';
import { quantity } from './fields.ts';

const span = (unit: string, title: string) => z.object({ low: number(unit), high: number(unit) }).nullable().meta({ title, unit, description: 'everything the recipe can mean; null when not enough of it could be read' });

export const recipeCheck = calculator({
  title: 'Check a recipe',
  purpose: 'What a recipe in cups, spoons, litres or grams comes to, between what and what, and which rules it misses.',
  source: `Mass balance. ${saltKindSource}. Cups of 237 or 250 mL, spoons of 15 or 20 mL (NIST Handbook 44; metric ones from memory); vinegar of 4 to 6 % where not stated. `
    + `Usual strength ${String(usualPouredPercent.low)} to ${String(usualPouredPercent.high)} %: ${usualSource}. Each rule has its own source.`,
  input: z.strictObject({
    text: z.string().max(longestText).meta({ title: 'The recipe as written', unit: 'characters', minimum: 0, maximum: longestText }),
    fruitKg: quantity('Fruit it is for', fruitAndBrineRanges.fruitKg).optional(),
  }),
  answer: {
    lines: z.array(z.object({ text: z.string(), understood: z.enum(lineVerdicts), words: z.array(z.string()) })).meta({ title: 'How each line was understood' }),
    brines: z.array(z.object({
      name: z.string(),
      stays: z.boolean().meta({ description: 'the brine the fruit stays in' }),
      pouredPercentWw: span('% w/w', 'Salt as poured'),
      settledPercentWw: span('% w/w', 'Salt where it settles'),
      aceticPouredPercent: span('g/100 mL', 'Acetic acid as poured'),
      aceticSettledPercent: span('g/100 mL', 'Acetic acid where it settles'),
      fruit: z.enum(fruitBases).meta({ description: 'where the weight of fruit comes from; usual: 0.7 to 1.0 L of brine for a kilogram' }),
      note: z.string(),
    })).meta({ title: 'Brines' }),
    rules: z.array(z.object({ id: z.string(), rule: z.string(), verdict: z.enum(ruleVerdicts), found: z.string(), source: z.string(), leastPercentWw: number('% w/w', 'Least salt it asks for').optional() })).meta({ title: 'Rules' }),
    slips: z.array(z.string()).meta({ title: 'Probable slips of copying' }),
    usualPouredPercentWw: z.object({ low: number('% w/w'), high: number('% w/w') }).meta({ title: 'What published home recipes pour', unit: '% w/w' }),
    ph: z.literal('unknown').meta({ title: 'pH', description: 'no recipe can tell it' }),
  },
  find: ({ text, fruitKg }) => {
    const { lines, brines, rules, slips, cautions } = checkRecipe(text, fruitKg ?? null);
    return ok({
      answer: {
        lines: lines.map((line) => ({ ...line, words: [...line.words] })), brines: [...brines], rules: [...rules], slips: [...slips],
        usualPouredPercentWw: usualPouredPercent, ph: 'unknown' as const,
      },
      caution: recipe(cautions),
    });
  },
});
