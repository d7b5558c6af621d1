import fc from 'fast-check';
import { expect, test } from 'vitest';
import { crc8 } from '#domain/sensor/crc8.ts';
import { brineConductivity, salinityFromConductivity } from '#domain/sensor/conductivity.ts';
import { readDs18b20 } from '#domain/sensor/ds18b20.ts';
import { pt100Ohm, pt100TemperatureC } from '#domain/sensor/pt100.ts';
import { fitThermistor, thermistorTemperatureC } from '#domain/sensor/thermistor.ts';
import { valueOf } from '../helpers/result.ts';

const seed = 20260405;
const between = (min: number, max: number): fc.Arbitrary<number> => fc.double({ min, max, noNaN: true });

test('Pt100: there and back over the whole range', () => {
  fc.assert(
    fc.property(between(-200, 850), (temperatureC) => {
      expect(valueOf(pt100TemperatureC(valueOf(pt100Ohm(temperatureC))))).toBeCloseTo(temperatureC, 3);
    }),
    { seed, numRuns: 500 },
  );
});

test('Pt100: warmer is always more ohms, and the two branches meet at 0 °C', () => {
  fc.assert(
    fc.property(between(-200, 849), between(1e-3, 1), (temperatureC, more) => {
      expect(valueOf(pt100Ohm(temperatureC + more))).toBeGreaterThan(valueOf(pt100Ohm(temperatureC)));
    }),
    { seed, numRuns: 300 },
  );
  expect(Math.abs(valueOf(pt100TemperatureC(99.999999)) - valueOf(pt100TemperatureC(100.000001)))).toBeLessThan(1e-4);
});

test('conductivity: there and back, and more salt always conducts better', () => {
  fc.assert(
    fc.property(between(0.5, 24.9), between(0, 35), (percentWw, temperatureC) => {
      const conductivity = valueOf(brineConductivity(percentWw, temperatureC));
      expect(valueOf(salinityFromConductivity(conductivity, temperatureC)).percentWw).toBeCloseTo(percentWw, 7);
      expect(valueOf(brineConductivity(percentWw + 0.1, temperatureC))).toBeGreaterThan(conductivity);
    }),
    { seed, numRuns: 400 },
  );
});

test('DS18B20: every temperature it can hold comes back, masked to its resolution', () => {
  const register = fc.integer({ min: -55 * 16, max: 125 * 16 });
  fc.assert(
    fc.property(register, fc.constantFrom(0, 1, 2, 3), (sixteenths, resolution) => {
      const kept = (sixteenths >> (3 - resolution)) * 2 ** (3 - resolution);
      fc.pre(kept !== 85 * 16);
      const body = [sixteenths & 0xff, (sixteenths >> 8) & 0xff, 0, 0, (resolution << 5) | 0x1f, 0xff, 0x0c, 0x10];
      expect(valueOf(readDs18b20(Uint8Array.from([...body, crc8(body)])))).toEqual({ temperatureC: kept / 16, resolutionBits: 9 + resolution });
    }),
    { seed, numRuns: 500 },
  );
});

test('a frame with its check byte checks to zero', () => {
  fc.assert(fc.property(fc.uint8Array({ maxLength: 30 }), (bytes) => crc8([...bytes, crc8(bytes)]) === 0), { seed, numRuns: 200 });
});

test('a fitted thermistor runs through its three points and cools as its resistance rises', () => {
  const beta = between(3000, 4500);
  fc.assert(
    fc.property(beta, between(1_000, 100_000), (b, ohmAt25) => {
      const ohm = (temperatureC: number): number => ohmAt25 * Math.exp(b * (1 / (temperatureC + 273.15) - 1 / 298.15));
      const coefficients = valueOf(fitThermistor([0, 20, 40].map((temperatureC) => ({ ohm: ohm(temperatureC), temperatureC }))));
      for (const temperatureC of [0, 20, 40]) expect(valueOf(thermistorTemperatureC(ohm(temperatureC), coefficients))).toBeCloseTo(temperatureC, 7);
      expect(valueOf(thermistorTemperatureC(ohm(10) * 1.01, coefficients))).toBeLessThan(valueOf(thermistorTemperatureC(ohm(10), coefficients)));
    }),
    { seed, numRuns: 200 },
  );
});
