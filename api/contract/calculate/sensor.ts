import { z } from 'zod';
import type { Result } from '#domain/result.ts';
import { ok } from '#domain/result.ts';
import { ds18b20Source, readDs18b20Hex } from '#domain/sensor/ds18b20.ts';
import type { SensorFault } from '#domain/sensor/fault.ts';
import { sensorFaults } from '#domain/sensor/fault.ts';
import { pt100Source, pt100TemperatureC } from '#domain/sensor/pt100.ts';
import { fitThermistor, thermistorRange, thermistorSource, thermistorTemperatureC } from '#domain/sensor/thermistor.ts';
import type { OutsideValidRange } from '#domain/valid-range.ts';
import type { Found } from './calculator.ts';
import { calculator, number } from './calculator.ts';
import { noTemperature } from './caution.ts';
import { oneWay, quantity, rows } from './fields.ts';

/** What no sensor in order can show is not refused: it is a fault, and its name is the answer. */
const ohm = quantity('Resistance', { low: 0, high: 1e9, unit: 'Ω' });
const coefficient = (title: string) => quantity(title, { low: -1, high: 1, unit: '1/K' }).optional();

const thermistor = oneWay(
  z.strictObject({
    kind: z.literal('thermistor'),
    ohm,
    a: coefficient('a'), b: coefficient('b'), c: coefficient('c'),
    calibration: rows('Three points', { ohm: quantity('Resistance', { low: 10, high: 2e7, unit: 'Ω' }), temperatureC: quantity('Temperature', thermistorRange) }, 3).optional(),
  }),
  ['a', 'b', 'c'], ['calibration'],
);

export const sensor = calculator({
  title: 'Sensor',
  purpose: 'Temperature from what a bare sensor gives, or the fault it shows.',
  source: `Pt100: ${pt100Source}. Thermistor: ${thermistorSource}. DS18B20: ${ds18b20Source}.`,
  input: z.discriminatedUnion('kind', [
    z.strictObject({ kind: z.literal('pt100'), ohm }),
    thermistor,
    z.strictObject({
      kind: z.literal('ds18b20'),
      scratchpadHex: z.string().max(60).regex(/^[\s:]*(?:[0-9a-fA-F][\s:]*){18}$/, 'must be nine bytes, 18 hexadecimal digits').meta({ title: 'Scratchpad', unit: 'hexadecimal digits', minimum: 18, maximum: 18 }),
    }),
  ]),
  answer: {
    temperatureC: number('°C', 'Temperature').optional(),
    fault: z.enum(sensorFaults).optional(),
    faultText: z.string().optional(),
    resolutionBits: number('bits', 'Resolution').optional(),
  },
  find: (input) => {
    if (input.kind === 'pt100') return temperatureOrFault(pt100TemperatureC(input.ohm), pt100Source, (temperatureC) => ({ temperatureC }));
    if (input.kind === 'ds18b20') return temperatureOrFault(readDs18b20Hex(input.scratchpadHex), ds18b20Source, (reading) => reading);
    const { a = Number.NaN, b = Number.NaN, c = Number.NaN, calibration } = input;
    const coefficients = calibration === undefined ? ok({ a, b, c }) : fitThermistor(calibration);
    if (!coefficients.ok) return coefficients;
    return temperatureOrFault(thermistorTemperatureC(input.ohm, coefficients.value), thermistorSource, (temperatureC) => ({ temperatureC }));
  },
});

interface SensorAnswer {
  readonly temperatureC?: number;
  readonly fault?: SensorFault['fault'];
  readonly faultText?: string;
  readonly resolutionBits?: number;
}

const temperatureOrFault = <Value>(result: Result<Value, SensorFault | OutsideValidRange>, source: string, answer: (value: Value) => SensorAnswer): Result<Found<SensorAnswer>, OutsideValidRange> => {
  if (result.ok) return ok({ answer: answer(result.value), source });
  const { error } = result;
  if (error.code === 'outside-valid-range') return { ok: false, error };
  return ok({ answer: { fault: error.fault, faultText: error.message }, source, caution: noTemperature() });
};
