import { z } from 'zod';
import { maturities } from '#domain/cure/batch.ts';
import { jarRange, packingRange } from '#domain/jar/jar-fill.ts';
import { ok } from '#domain/result.ts';
import { countRange, maturityClasses, maturityIndex as indexOf } from '#domain/season/maturity-index.ts';
import { harvestYield, yieldDefaults, yieldRanges } from '#domain/season/yield.ts';
import { asFound, calculator, number } from './calculator.ts';
import { jars } from './caution.ts';
import { oneWay, quantity, wholeNumber } from './fields.ts';

export const maturityIndex = calculator({
  title: 'Maturity index',
  purpose: 'How ripe a sample is, by counting about a hundred fruits into eight colours.',
  source: 'Harvest maturity index of the Jaén research station, as told by olive growing handbooks; the stages are an assumption',
  input: z.strictObject({
    counts: z.array(wholeNumber('Fruits', countRange)).length(maturityClasses.length).meta({ title: 'Fruits in each class', maxItems: maturityClasses.length, description: maturityClasses.map((look, i) => `${i}: ${look}`).join('; ') }),
  }),
  answer: { index: number('', 'Index, 0 to 7'), stage: z.enum(maturities).meta({ title: 'Stage' }), fruits: number('', 'Fruits counted') },
  find: ({ counts }) => asFound(indexOf(counts)),
});

const { cullFraction, pitted, weightChange, brinePercentWw, brineLoss } = yieldDefaults;

export const harvest = calculator({
  title: 'From pick to jars',
  purpose: 'Cured fruit and whole jars from a pick, and the brine and salt to fill them.',
  source: 'Mass balance; bulk density Ozturk 2009; fill of the table olive glossary of the International Olive Council; other defaults are assumptions',
  input: oneWay(
    z.strictObject({
      fruitKg: quantity('Fruit by weight', yieldRanges.fruitKg).optional(),
      volumeL: quantity('Fruit by bucket', yieldRanges.volumeL).optional(),
      cullFraction: quantity('Share thrown out', yieldRanges.cullFraction).default(cullFraction),
      pitted: z.boolean().meta({ title: 'Pitted' }).default(pitted),
      jarMl: quantity('Jar to the brim', jarRange),
      stoneFraction: quantity('Share that is stone', yieldRanges.stoneFraction).optional(),
      weightChange: quantity('Weight gained or lost in curing', yieldRanges.weightChange).default(weightChange),
      packingKgPerL: quantity('Fruit in a litre of jar', packingRange).optional(),
      brinePercentWw: quantity('Strength of the jar brine', yieldRanges.brinePercentWw).default(brinePercentWw),
      brineLoss: quantity('Brine spilled', yieldRanges.brineLoss).default(brineLoss),
    }),
    ['fruitKg'], ['volumeL'],
  ),
  answer: { fruitKg: number('kg', 'Fruit'), curedKg: number('kg', 'Cured'), jars: number('', 'Jars'), brineL: number('L', 'Brine'), saltG: number('g', 'Salt') },
  find: (input) => {
    const found = harvestYield(input);
    if (!found.ok) return found;
    const { assumed, ...answer } = found.value;
    return ok({ answer, assumed, caution: jars() });
  },
});
