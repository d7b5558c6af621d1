import { z } from 'zod';
import { heatPartRanges, pasteurisationRanges, pasteurisationUnits, propionicReferenceC, propionicZC } from '#domain/jar/pasteurisation.ts';
import { ok } from '#domain/result.ts';
import { calculator, number } from './calculator.ts';
import { heat } from './caution.ts';
import { mostParts, quantity, rows } from './fields.ts';

export const pasteurisation = calculator({
  title: 'Pasteurisation units',
  purpose: 'Minutes at the reference temperature that would do as much as the heat a jar had.',
  source: 'Table olive glossary of the International Olive Council: propionic bacteria, 62.4 °C, z 5.25 °C',
  input: z.strictObject({
    parts: rows('Heat at the coldest point of the jar', { minutes: quantity('Minutes', heatPartRanges.minutes), temperatureC: quantity('Temperature', heatPartRanges.temperatureC) }, mostParts),
    referenceC: quantity('Reference', pasteurisationRanges.referenceC).default(propionicReferenceC),
    zC: quantity('z', pasteurisationRanges.zC).default(propionicZC),
  }),
  answer: { units: number('min at the reference', 'Pasteurisation units') },
  find: ({ parts, referenceC, zC }) => {
    const units = pasteurisationUnits(parts, referenceC, zC);
    return units.ok ? ok({ answer: { units: units.value }, caution: heat() }) : units;
  },
});
