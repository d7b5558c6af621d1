import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import type { OutsideValidRange } from '../valid-range.ts';
import { outsideValidRange } from '../valid-range.ts';
import { crc8 } from './crc8.ts';
import type { SensorFault } from './fault.ts';
import { sensorFault } from './fault.ts';

export interface Ds18b20Reading {
  readonly temperatureC: number;
  readonly resolutionBits: 9 | 10 | 11 | 12;
}

/**
 * Temperature from the nine bytes of a DS18B20 scratchpad.
 *
 * Bytes 0 and 1, low first, are a signed number of sixteenths of a degree; byte 4 bits 5 and 6 tell 9, 10, 11 or 12 bits, and below 12 the
 * lowest 3, 2 or 1 bits mean nothing and are cleared; byte 8 is the CRC-8 of the eight before.
 *
 * Three false values are faults, not readings: +85 °C (power-on), a frame of ones (nobody answered; drivers make it -127), and a frame of
 * zeros, which passes its check and would be a plausible 0 °C.
 *
 * Source: DS18B20 datasheet, table 1 and figure "configuration register". Range -55 to +125 °C, ± 0.5 °C from -10 to +85 °C.
 * A brine is never at 85 °C, so a true one is given up. Example: 91 01 4B 46 7F FF 0F 10 25 is +25.0625 °C at 12 bits.
 */
export const readDs18b20 = (scratchpad: Uint8Array): Result<Ds18b20Reading, SensorFault | OutsideValidRange> => {
  if (scratchpad.length !== 9) return outsideValidRange('scratchpadHex', 'scratchpadHex must be nine bytes');
  if (scratchpad.every((byte) => byte === 0xff)) return sensorFault('disconnected');
  if (scratchpad.every((byte) => byte === 0)) return sensorFault('blank-scratchpad');
  if (crc8(scratchpad) !== 0) return sensorFault('checksum');
  const [low = 0, high = 0, , , configuration = 0] = scratchpad;
  const resolutionBits = (9 + ((configuration >> 5) & 3)) as Ds18b20Reading['resolutionBits'];
  const signed = ((high << 24) | (low << 16)) >> 16;
  const temperatureC = (signed & (-1 << (12 - resolutionBits))) / 16;
  if (temperatureC === 85) return sensorFault('power-on');
  if (temperatureC < -55 || temperatureC > 125) return sensorFault('out-of-range');
  return ok({ temperatureC, resolutionBits });
};

/** The same from hexadecimal digits, with or without spaces or colons between bytes. */
export const readDs18b20Hex = (scratchpadHex: string): Result<Ds18b20Reading, SensorFault | OutsideValidRange> => {
  const digits = scratchpadHex.replaceAll(/[\s:]/g, '');
  if (!/^[0-9a-f]{18}$/i.test(digits)) return outsideValidRange('scratchpadHex', 'scratchpadHex must be nine bytes, 18 hexadecimal digits');
  return readDs18b20(Uint8Array.from({ length: 9 }, (_, i) => Number.parseInt(digits.slice(2 * i, 2 * i + 2), 16)));
};

export const ds18b20Source = 'DS18B20 datasheet, table 1; CRC of application note 27';
