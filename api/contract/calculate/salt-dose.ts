import { z } from 'zod';
import { brineMix as mix, brineMixRanges } from '#domain/brine/brine-mix.ts';
import { densitySource } from '#domain/brine/density.ts';
import { saltByCup as byCup, saltByCupRanges } from '#domain/brine/salt-by-cup.ts';
import { saltKindSource, saltKinds } from '#domain/brine/salt-kind.ts';
import { asFound, calculator, number } from './calculator.ts';
import { poured } from './caution.ts';
import { choice, quantity } from './fields.ts';

const spread = (unit: string, title: string) => z.object({ value: number(unit), low: number(unit), high: number(unit) }).meta({ title, unit });

export const brineMix = calculator({
  title: 'Mix a brine',
  purpose: 'Salt and water for a volume of brine of a strength.',
  source: `Mass balance. ${densitySource}. ${saltKindSource}.`,
  input: z.strictObject({
    brineL: quantity('Brine to make', brineMixRanges.brineL),
    targetPercentWw: quantity('Strength wanted', brineMixRanges.targetPercentWw),
    temperatureC: quantity('Temperature', brineMixRanges.temperatureC),
    saltKind: choice('Kind of salt', saltKinds).optional(),
  }),
  answer: { saltG: number('g', 'Salt'), waterL: number('L', 'Water'), cups: spread('US cups', 'Salt by cup').optional() },
  find: ({ brineL, targetPercentWw, temperatureC, saltKind }) => asFound(mix(brineL, targetPercentWw, temperatureC, saltKind), () => ({ caution: poured(targetPercentWw) })),
});

export const saltByCup = calculator({
  title: 'Salt by cup',
  purpose: 'What a recipe in cups comes to, with the spread of the kind of salt.',
  source: `Mass balance, water at 20 °C. ${saltKindSource}.`,
  input: z.strictObject({
    cups: quantity('Cups of salt', saltByCupRanges.cups),
    saltKind: choice('Kind of salt', saltKinds),
    waterL: quantity('Water', saltByCupRanges.waterL),
  }),
  answer: { saltG: spread('g', 'Salt'), percentWw: spread('% w/w', 'Strength as poured') },
  // The weak end of the spread decides: nobody knows how heavy this cup was.
  find: ({ cups, saltKind, waterL }) => asFound(byCup(cups, saltKind, waterL), ({ percentWw }) => ({ caution: poured(percentWw.low) })),
});
