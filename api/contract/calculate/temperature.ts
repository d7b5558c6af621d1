import { z } from 'zod';
import { degreeHours as hoursAboveBase } from '#domain/cure/degree-hours.ts';
import { activationEnergyRange, meanKineticTemperature as meanKinetic, pharmacopoeiaActivationEnergy } from '#domain/cure/mean-kinetic-temperature.ts';
import { hoursRange, spansOfParts, temperatureRange } from '#domain/cure/temperature-span.ts';
import { asFound, calculator, number } from './calculator.ts';
import { notAboutMicrobes } from './caution.ts';
import { quantity, temperatureParts } from './fields.ts';

const parts = temperatureParts('Temperatures', hoursRange, temperatureRange);

export const meanKineticTemperature = calculator({
  title: 'Mean kinetic temperature',
  purpose: 'The steady temperature that does the same as an uneven history did, each stretch weighted by its hours.',
  source: 'USP <1160>, 83.144 kJ/mol unless more is known (made for medicines; 45 is a start for cures, an assumption); uneven spacing after Tong & Lock 2015',
  input: z.strictObject({ parts, activationEnergyKjPerMol: quantity('Activation energy', activationEnergyRange).default(pharmacopoeiaActivationEnergy) }),
  answer: { meanKineticC: number('°C', 'Mean kinetic temperature'), meanC: number('°C', 'Plain mean'), hours: number('h', 'Hours') },
  find: ({ parts: given, activationEnergyKjPerMol }) => {
    const spans = spansOfParts(given);
    return spans.ok ? asFound(meanKinetic(spans.value, activationEnergyKjPerMol), () => ({ caution: notAboutMicrobes() })) : spans;
  },
});

export const degreeHours = calculator({
  title: 'Degree-hours',
  purpose: 'How long and how far it was warmer than a base.',
  source: 'Good manufacturing practice for fermented sausage (base 15.6 °C); its limits are for meat and say nothing about olives',
  input: z.strictObject({ parts, baseC: quantity('Base', temperatureRange) }),
  answer: { degreeHours: number('°C·h', 'Degree-hours'), hoursAbove: number('h', 'Hours above the base'), highestC: number('°C', 'Highest') },
  find: ({ parts: given, baseC }) => {
    const spans = spansOfParts(given);
    return spans.ok ? asFound(hoursAboveBase(spans.value, baseC), () => ({ caution: notAboutMicrobes() })) : spans;
  },
});
