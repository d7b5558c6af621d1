import { z } from 'zod';
import { acidDose as dose, acidDoseRanges as ranges, acidDoseSource } from '#domain/acid/acid-dose.ts';
import { asFound, calculator, number } from './calculator.ts';
import { acidDosing } from './caution.ts';
import { quantity } from './fields.ts';

export const acidDose = calculator({
  title: 'Acid from a bench trial',
  purpose: 'The dose that brought a bench jar to its pH, scaled to the drum.',
  source: acidDoseSource,
  input: z.strictObject({
    benchMl: quantity('Bench sample', ranges.benchMl),
    benchAcidMl: quantity('Acid the sample took', ranges.benchAcidMl),
    brineL: quantity('Drum', ranges.brineL),
    acidPercent: quantity('Strength of the acid', ranges.acidPercent),
  }),
  answer: { acidMl: number('mL', 'Acid'), aceticPercentAdded: number('g/100 mL', 'Acetic acid added') },
  find: ({ benchMl, benchAcidMl, brineL, acidPercent }) => asFound(dose(benchMl, benchAcidMl, brineL, acidPercent), () => ({ caution: acidDosing(acidPercent) })),
});
