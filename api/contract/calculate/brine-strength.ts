import { z } from 'zod';
import { brineBases, convertBrine, strengthRange } from '#domain/brine/bases.ts';
import { densitySource } from '#domain/brine/density.ts';
import { hydrometerRanges, readHydrometer } from '#domain/brine/hydrometer.ts';
import { brineRanges } from '#domain/brine/range.ts';
import { waterActivitySource } from '#domain/brine/water-activity.ts';
import { asFound, calculator, number } from './calculator.ts';
import { weakBrine } from './caution.ts';
import { choice, oneWay, quantity } from './fields.ts';

/** Cold saturated brine is the heaviest. */
const densest = strengthRange('density', brineRanges.temperatureC.low).high;

export const brineStrength = calculator({
  title: 'Brine strength',
  purpose: 'One brine, given on any basis, in every basis.',
  source: `${densitySource}. ${waterActivitySource}. Salometer: 100° is 26.395 % w/w (60 °F scale).`,
  input: z.strictObject({
    basis: choice('Given as', brineBases),
    value: quantity('Strength', { low: 0, high: densest, unit: 'of the basis' }),
    temperatureC: quantity('Temperature of the brine', brineRanges.temperatureC),
  }),
  answer: {
    percentWw: number('% w/w', 'Salt by weight'),
    gPer100GWater: number('g/100 g water', 'Salt to water'),
    percentWv: number('g/100 mL', 'Salt by weight in volume'),
    gPerL: number('g/L', 'Salt in a litre of brine'),
    molality: number('mol/kg water', 'Molality'),
    salometer: number('°S', 'Salometer'),
    densityKgPerM3: number('kg/m³', 'Density'),
    waterActivity: number('', 'Water activity at 25 °C'),
  },
  find: ({ basis, value, temperatureC }) =>
    asFound(convertBrine(basis, value, temperatureC), ({ percentWw }) => ({ caution: weakBrine(percentWw), validRange: { value: strengthRange(basis, temperatureC) } })),
});

const { low: coldest, high: warmest } = brineRanges.temperatureC;
/** The widest that any pair of temperatures allows; the answer tells the range of its own pair. */
const lightest = hydrometerRanges(warmest, warmest);
const heaviest = hydrometerRanges(coldest, coldest);

export const hydrometer = calculator({
  title: 'Hydrometer',
  purpose: 'Salt from a floating hydrometer, corrected for the temperature of the sample and of the instrument.',
  source: `ISO 649-1, glass expands by 25e-6 per °C (from memory). ${densitySource}.`,
  input: oneWay(
    z.strictObject({
      densityKgPerM3: quantity('Density read', { low: Math.floor(lightest.densityKgPerM3.low), high: Math.ceil(heaviest.densityKgPerM3.high), unit: 'kg/m³' }).optional(),
      specificGravity: quantity('Specific gravity read', { low: 0.99, high: 1.22, unit: '' }).optional(),
      sampleC: quantity('Temperature of the sample', brineRanges.temperatureC),
      calibratedAtC: quantity('Temperature on the hydrometer', brineRanges.temperatureC),
    }),
    ['densityKgPerM3'], ['specificGravity'],
  ),
  answer: { percentWw: number('% w/w', 'Salt by weight'), gPerL: number('g/L', 'Salt in a litre of brine'), densityKgPerM3: number('kg/m³', 'True density of the sample') },
  find: ({ densityKgPerM3, specificGravity = Number.NaN, sampleC, calibratedAtC }) => {
    const read = densityKgPerM3 === undefined ? { specificGravity } : { densityKgPerM3 };
    return asFound(readHydrometer({ ...read, sampleC, calibratedAtC }), ({ percentWw }) => ({ caution: weakBrine(percentWw), validRange: { ...hydrometerRanges(sampleC, calibratedAtC) } }));
  },
});
