import { expect, test } from 'vitest';
import type { HeatPart } from '#domain/jar/pasteurisation.ts';
import { pasteurisationUnits } from '#domain/jar/pasteurisation.ts';
import { checkAccuracy } from '../helpers/accuracy.ts';
import { valueOf } from '../helpers/value-of.ts';

const units = (part: HeatPart, referenceC?: number, zC?: number): number => valueOf(pasteurisationUnits([part], referenceC, zC));
checkAccuracy<HeatPart>({
  quantity: 'pasteurisation units, propionic bacteria',
  unit: 'PU',
  source: 'reference 62.4 °C and z 5.25 °C of the table olive glossary of the International Olive Council',
  confidence: 'computed from cited inputs by the cited equation',
  tolerance: 0.6,
  reason: 'stated to the whole unit, the last one cut instead of rounded (2009.51)',
  rows: [[{ minutes: 15, temperatureC: 62.4 }, 15], [{ minutes: 10, temperatureC: 70 }, 280], [{ minutes: 8, temperatureC: 75 }, 2009]],
  actual: (part) => units(part),
  mistakes: {
    'beer pasteurisation (60 °C, z 7 °C)': (part) => units(part, 60, 7),
    'e for ten': ({ minutes, temperatureC }) => minutes * Math.exp((temperatureC - 62.4) / 5.25),
    'minutes only': ({ minutes }) => minutes,
  },
});

test('F₀ of low-acid packs is the same sum at 121 °C with z 10 °C: 15 min are 15, a z lower is a tenth', () => {
  expect(units({ minutes: 15, temperatureC: 121 }, 121, 10)).toBeCloseTo(15, 10);
  expect(units({ minutes: 15, temperatureC: 111 }, 121, 10)).toBeCloseTo(1.5, 10);
});

test('parts add up, in any order', () => {
  const parts = [{ minutes: 5, temperatureC: 55 }, { minutes: 8, temperatureC: 70 }, { minutes: 4, temperatureC: 62.4 }];
  const sum = parts.reduce((total, part) => total + units(part), 0);
  expect(valueOf(pasteurisationUnits(parts))).toBeCloseTo(sum, 9);
  expect(valueOf(pasteurisationUnits(parts.toReversed()))).toBeCloseTo(sum, 9);
});

test.each([
  ['parts', [], undefined, undefined], ['parts.0.minutes', [{ minutes: -1, temperatureC: 70 }], undefined, undefined],
  ['parts.0.temperatureC', [{ minutes: 1, temperatureC: 1_000 }], undefined, undefined], ['zC', [{ minutes: 1, temperatureC: 70 }], undefined, 0],
  ['referenceC', [{ minutes: 1, temperatureC: 70 }], Number.NaN, undefined],
])('refused by the name of the field: %s', (field, parts, referenceC, zC) => {
  expect(pasteurisationUnits(parts, referenceC, zC)).toMatchObject({ ok: false, error: { code: 'outside-valid-range', field } });
});
