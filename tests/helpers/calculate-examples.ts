import type { CalculatorInput, CalculatorName } from '#contract';

type Examples = { readonly [Name in CalculatorName]: readonly [CalculatorInput<Name>, ...CalculatorInput<Name>[]] };

const fruit = { fruitKg: 10, brineL: 8 };
const buffers = [{ ph: 7.01, mv: -15 }, { ph: 4.01, mv: 160 }];

/** Good inputs, one for each way a calculator can be asked; between them they use every field there is. */
export const calculateExamples: Examples = {
  'brine-strength': [{ basis: 'percent-ww', value: 8, temperatureC: 20 }],
  hydrometer: [{ densityKgPerM3: 1059.1, sampleC: 10, calibratedAtC: 20 }, { specificGravity: 1.06, sampleC: 18, calibratedAtC: 15.6 }],
  'brine-mix': [{ brineL: 10, targetPercentWw: 8, temperatureC: 20, saltKind: 'pickling' }],
  'salt-by-cup': [{ cups: 1.5, saltKind: 'table', waterL: 3.785 }],
  'salt-equilibrium': [{ fruitKg: 10, stoneFraction: 0.17, fleshMoisture: 0.65, brineL: 7.3, brineGPerL: 100, fleshGPerL: 0, targetGPerL: 80 }],
  'ph-buffer': [{ set: 'technical-7', temperatureC: 12 }],
  'ph-electrode': [{ points: buffers, temperatureC: 25 }],
  'ph-from-mv': [{ mv: 150, points: buffers, calibrationC: 25, temperatureC: 10 }],
  'mean-kinetic-temperature': [{ parts: [{ hours: 23, temperatureC: 20 }, { hours: 1, temperatureC: 40 }], activationEnergyKjPerMol: 45 }],
  'degree-hours': [{ parts: [{ hours: 8, temperatureC: 24 }, { hours: 6, temperatureC: 15 }], baseC: 15.6 }],
  pasteurisation: [{ parts: [{ minutes: 10, temperatureC: 70 }], referenceC: 62.4, zC: 5.25 }],
  leaching: [
    { ...fruit, cut: 'cracked', maturity: 'green', temperatureC: 20, stoneFraction: 0.17, fleshMoisture: 0.65, changes: [{ day: 1, fraction: 1 }, { day: 2 }], days: 21 },
    { ...fruit, cut: 'whole', maturity: 'black', parts: [{ hours: 240, temperatureC: 18 }, { hours: 500, temperatureC: 12 }], changes: [], days: 30 },
  ],
  'cure-regression': [{ cures: [[12, 46], [14, 41], [16, 33], [18, 31], [21, 24], [24, 21]].map(([temperatureC = 0, days = 0]) => ({ temperatureC, days, tastedEveryDays: 1 })), at: [15, 20, 28] }],
  'acid-dose': [{ benchMl: 1_000, benchAcidMl: 30, brineL: 20, acidPercent: 5 }],
  'drum-warming': [
    { airC: 26, startC: 15, timeConstantHours: 14, hours: 24 },
    { parts: [{ hours: 12, temperatureC: 10 }, { hours: 12, temperatureC: 28 }], startC: 15, timeConstantHours: 14, hours: 24 },
  ],
  'maturity-index': [{ counts: [5, 20, 35, 20, 12, 5, 2, 1] }],
  yield: [
    { fruitKg: 28.6, cullFraction: 0.03, pitted: true, jarMl: 720, stoneFraction: 0.17, weightChange: 0, packingKgPerL: 0.5, brinePercentWw: 8, brineLoss: 0.1 },
    { volumeL: 80, jarMl: 720 },
  ],
  'recipe-check': [{ text: '½ cup table salt to 10 cups of water\n1 cup vinegar', fruitKg: 2.5 }, { text: 'a handful of salt in 10 litres' }],
  sensor: [
    { kind: 'pt100', ohm: 107.79 },
    { kind: 'thermistor', ohm: 12_490, a: 1.129148e-3, b: 2.34125e-4, c: 8.76741e-8 },
    { kind: 'thermistor', ohm: 12_490, calibration: [{ ohm: 32_650, temperatureC: 0 }, { ohm: 10_000, temperatureC: 25 }, { ohm: 5_327, temperatureC: 40 }] },
    { kind: 'ds18b20', scratchpadHex: '91 01 4B 46 7F FF 0F 10 25' },
  ],
};
