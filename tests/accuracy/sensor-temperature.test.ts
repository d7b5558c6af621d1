import { describe, expect, test } from 'vitest';
import { crc8 } from '#domain/sensor/crc8.ts';
import { readDs18b20, readDs18b20Hex } from '#domain/sensor/ds18b20.ts';
import { pt100Ohm, pt100TemperatureC, pt100ToleranceC } from '#domain/sensor/pt100.ts';
import { fitThermistor, thermistorTemperatureC } from '#domain/sensor/thermistor.ts';
import { checkAccuracy } from '../helpers/accuracy.ts';
import { cell, checkPublished, published } from '../helpers/published.ts';
import { expectOutside, valueOf } from '../helpers/result.ts';

const bytesOf = (hex: unknown): number[] => [...Buffer.from(String(hex), 'hex')];
/** A whole scratchpad with a good check byte around a temperature register. */
const frame = (register: number, configuration = 0x7f): Uint8Array => {
  const body = [register & 0xff, (register >> 8) & 0xff, 0x4b, 0x46, configuration, 0xff, 0x0c, 0x10];
  return Uint8Array.from([...body, crc8(body)]);
};
const expectFault = (result: ReturnType<typeof readDs18b20>, fault: string): void => expect(result).toMatchObject({ ok: false, error: { code: 'sensor-fault', fault } });

const registers = published('sensor-ds18b20');
checkAccuracy<number>({
  quantity: registers.quantity, unit: registers.unit, source: registers.source, confidence: registers.confidence, tolerance: 0, reason: 'sixteenths are exact',
  rows: registers.rows.map((row) => [Number.parseInt(String(row[0]), 16), cell(registers, row, 'temperatureC')]),
  actual: (register) => valueOf(readDs18b20(frame(register))).temperatureC,
  mistakes: {
    'no sign': (register) => register / 16, 'high byte first': (register) => (((register & 0xff) << 24) >> 16 | (register >> 8)) / 16, 'eighths': (register) => ((register << 16) >> 16) / 8,
  },
});

const checks = published('sensor-crc8');
checkAccuracy<unknown>({
  quantity: checks.quantity, unit: '', source: checks.source, confidence: checks.confidence, tolerance: 0, reason: 'exact',
  rows: checks.rows.map((row) => [row[0], cell(checks, row, 'crc')]),
  actual: (hex) => crc8(bytesOf(hex)),
  mistakes: {
    'bytes in the order the note prints them': (hex) => crc8(bytesOf(hex).toReversed()),
    'most significant bit first': (hex) => bytesOf(hex).reduce((crc, byte) => { let c = crc ^ byte; for (let i = 0; i < 8; i++) c = (c & 0x80) === 0 ? (c << 1) & 0xff : ((c << 1) ^ 0x31) & 0xff; return c; }, 0),
  },
});

describe('DS18B20: the false values are faults', () => {
  test('power-on: +85 °C with a good check', () => {
    expectFault(readDs18b20Hex('50 05 4B 46 7F FF 0C 10 1C'), 'power-on');
    expect(valueOf(readDs18b20(frame(0x0551))).temperatureC).toBe(85.0625);
  });
  test('nobody answered: a frame of ones', () => expectFault(readDs18b20Hex('FF'.repeat(9)), 'disconnected'));
  test('line held low: a frame of zeros passes its check and is still no 0 °C', () => {
    expect(crc8(new Uint8Array(9))).toBe(0);
    expectFault(readDs18b20Hex('00'.repeat(9)), 'blank-scratchpad');
    expect(valueOf(readDs18b20(frame(0))).temperatureC).toBe(0);
  });
  test('one bit turned in any place is noticed', () => {
    const good = frame(0x0191);
    for (let bit = 0; bit < 72; bit++) expectFault(readDs18b20(good.map((byte, i) => (i === bit >> 3 ? byte ^ (1 << (bit & 7)) : byte))), 'checksum');
  });
  test('beyond the sensor: -127 °C and 130 °C', () => {
    expectFault(readDs18b20(frame((-127 * 16) & 0xffff)), 'out-of-range');
    expectFault(readDs18b20(frame(130 * 16)), 'out-of-range');
  });
  test('not nine bytes of hexadecimal', () => {
    for (const text of ['', '91', 'zz'.repeat(9), '91014B467FFF0F1025FF']) expectOutside(readDs18b20Hex(text), 'scratchpadHex');
    expectOutside(readDs18b20(new Uint8Array(8)), 'scratchpadHex');
  });
  test('the worked example, with colons', () => expect(readDs18b20Hex('91:01:4b:46:7f:ff:0f:10:25')).toEqual({ ok: true, value: { temperatureC: 25.0625, resolutionBits: 12 } }));
});

test.each([[0x1f, 9, 20.5], [0x3f, 10, 20.75], [0x5f, 11, 20.875], [0x7f, 12, 20.9375]] as const)('DS18B20 configuration %i: %i bits mask the undefined ones (datasheet)', (configuration, bits, masked) => {
  expect(valueOf(readDs18b20(frame(0x014f, configuration)))).toEqual({ temperatureC: masked, resolutionBits: bits });
  // Below zero clearing bits goes down, as the two's complement does: -10.125 becomes -10.5 with 9 bits.
  if (bits === 9) expect(valueOf(readDs18b20(frame(0xff5e, configuration))).temperatureC).toBe(-10.5);
});

const pt100 = published('sensor-pt100');
checkPublished({
  table: pt100, column: 'ohm', input: (at) => at('temperatureC'), tolerance: 0.0055, reason: 'two decimals are printed; 109.735 at 25 °C is printed as 109.73',
  actual: (temperatureC) => valueOf(pt100Ohm(temperatureC)),
  mistakes: { 'a straight line, 0.385 Ω per degree': (t) => 100 + 0.385 * t, 'the american curve': (t) => 100 * (1 + 3.9692e-3 * t - 5.8495e-7 * t * t) },
});
checkPublished({
  table: pt100, column: 'temperatureC', unit: '°C', input: (at) => at('ohm'), tolerance: 0.014, reason: '0.005 Ω of rounding is 0.013 °C',
  actual: (ohm) => valueOf(pt100TemperatureC(ohm)),
  mistakes: { 'a straight line': (ohm) => (ohm - 100) / 0.385, 'leads of 0.2 Ω not taken off': (ohm) => valueOf(pt100TemperatureC(ohm + 0.2)), 'a Pt1000': (ohm) => valueOf(pt100TemperatureC(ohm * 1.01)) },
});
checkAccuracy<number>({
  quantity: 'Pt100 at the ends of its range', unit: 'Ω', source: 'IEC 60751:2008', confidence: 'from memory', tolerance: 0.005, reason: 'two decimals are printed', rows: [[-200, 18.52], [-100, 60.26], [850, 390.48]],
  actual: (temperatureC) => valueOf(pt100Ohm(temperatureC)),
  mistakes: {
    'the old C': (t) => 100 * (1 + 3.9083e-3 * t - 5.775e-7 * t * t + (t < 0 ? -4.2735e-12 * (t - 100) * t ** 3 : 0)),
    'no C below zero': (t) => 100 * (1 + 3.9083e-3 * t - 5.775e-7 * t * t),
  },
});
for (const grade of ['A', 'B'] as const) {
  checkPublished({
    table: published('sensor-pt100-tolerance'), column: `class${grade}`, input: (at) => at('temperatureC'), tolerance: 1e-9, reason: 'exact',
    actual: (temperatureC) => valueOf(pt100ToleranceC(grade, temperatureC)),
    mistakes: { 'the sign of the temperature kept': (t) => (grade === 'A' ? 0.15 + 0.002 * t : 0.3 + 0.005 * t), 'class AA': (t) => valueOf(pt100ToleranceC('AA', t)) },
  });
}

const coefficients = { a: 1.129148e-3, b: 2.34125e-4, c: 8.76741e-8 };
const thermistor = published('sensor-thermistor');
const fitted = valueOf(fitThermistor([{ ohm: 32650, temperatureC: 0 }, { ohm: 10000, temperatureC: 25 }, { ohm: 3603, temperatureC: 50 }]));
checkPublished({
  table: thermistor, column: 'temperatureC', input: (at) => at('ohm'), tolerance: 0.016, reason: 'the rounded table and coefficients differ by 0.014 at 50 °C',
  actual: (ohm) => valueOf(thermistorTemperatureC(ohm, coefficients)),
  mistakes: {
    'the cube term forgotten': (ohm) => valueOf(thermistorTemperatureC(ohm, { ...coefficients, c: 0 })),
    'the two-number beta formula with 3380': (ohm) => 1 / (1 / 298.15 + Math.log(ohm / 10_000) / 3380) - 273.15,
  },
});
checkPublished({
  table: thermistor, column: 'temperatureC', quantity: 'the same thermistor fitted through its points at 0, 25 and 50 °C', input: (at) => at('ohm'), tolerance: 0.02, reason: 'the three points are rounded to the ohm',
  actual: (ohm) => valueOf(thermistorTemperatureC(ohm, fitted)),
  mistakes: { 'a straight line in 1/T through two points': (ohm) => { const slope = (1 / 323.15 - 1 / 273.15) / Math.log(3603 / 32650); return 1 / (1 / 273.15 + slope * Math.log(ohm / 32650)) - 273.15; } },
});
test('three points of the equation itself give its coefficients back', () => {
  const ohms = [29_490, 11_000, 4_500];
  const refit = valueOf(fitThermistor(ohms.map((ohm) => ({ ohm, temperatureC: valueOf(thermistorTemperatureC(ohm, coefficients)) }))));
  expect(refit.a / coefficients.a).toBeCloseTo(1, 9);
  expect(refit.b / coefficients.b).toBeCloseTo(1, 9);
  expect(refit.c / coefficients.c).toBeCloseTo(1, 8);
});

describe('open, short and absurd', () => {
  test.each([[0, 'short'], [3, 'short'], [Infinity, 'open'], [5e7, 'open'], [12, 'out-of-range'], [5e6, 'out-of-range']] as const)('thermistor of %d Ω: %s', (ohm, fault) => {
    expect(thermistorTemperatureC(ohm, coefficients)).toMatchObject({ ok: false, error: { code: 'sensor-fault', fault } });
  });
  test.each([[0, 'short'], [10, 'short'], [Infinity, 'open'], [1000, 'open']] as const)('Pt100 of %d Ω: %s', (ohm, fault) => {
    expect(pt100TemperatureC(ohm)).toMatchObject({ ok: false, error: { code: 'sensor-fault', fault } });
  });
  const points = [{ ohm: 32650, temperatureC: 0 }, { ohm: 10000, temperatureC: 25 }, { ohm: 3603, temperatureC: 50 }] as const;
  test('refused by name', () => {
    expectOutside(thermistorTemperatureC(Number.NaN, coefficients), 'ohm');
    expectOutside(thermistorTemperatureC(-5, coefficients), 'ohm');
    expectOutside(thermistorTemperatureC(10_000, { ...coefficients, b: Number.NaN }), 'b');
    expectOutside(pt100TemperatureC(Number.NaN), 'ohm');
    expectOutside(pt100TemperatureC(-1), 'ohm');
    expectOutside(pt100Ohm(-273), 'temperatureC');
    expectOutside(pt100ToleranceC('A', 900), 'temperatureC');
    expectOutside(fitThermistor(points.slice(1)), 'calibration');
    expectOutside(fitThermistor([...points, points[0]]), 'calibration');
    expectOutside(fitThermistor([points[0], points[1], { ohm: 9900, temperatureC: 26 }]), 'calibration');
    expectOutside(fitThermistor([points[0], points[1], { ohm: 20000, temperatureC: 50 }]), 'calibration');
    expectOutside(fitThermistor([points[0], points[1], { ohm: Number.NaN, temperatureC: 50 }]), 'calibration');
  });
});
