import { channels } from '#domain/reading/channel.ts';
import { seriesId, type Quality, type Slug } from '#domain/reading/reading.ts';
import { fail, ok, type Result } from '#domain/result.ts';
import { crc8 } from '#domain/sensor/crc8.ts';
import { readDs18b20Hex } from '#domain/sensor/ds18b20.ts';
import type { EpochMs } from '#domain/units/time.ts';
import type { Decoded } from '../decoded.ts';
import { nothing, refuse } from '../payload.ts';

/**
 * A raw 1-Wire bridge: on each line the ROM code of a sensor and the nine bytes of its scratchpad, in hex.
 * The ROM code is either the eight bytes as they come over the wire (family, serial number low byte first, check), or the form
 * that Linux shows (`28-` and the serial number, high byte first). Both name the same probe: `28-` and the serial number.
 * Both checks are worked out here, so a bridge need not know what a temperature is.
 */
const linePattern = /^(28-[0-9a-f]{12}|[0-9a-f]{16})[\s:,]+((?:[0-9a-f]{2}[\s:]?){9})$/i;
/** DS18B20 datasheet, "64-bit lasered ROM code": the family whose scratchpad is read here. */
const family = '28';

/** What a sensor's fault is kept as: the false value itself, marked, as when it comes over MQTT. */
const falseValues: Readonly<Record<string, { readonly value: number; readonly quality: Quality }>> = {
  'power-on': { value: 85, quality: 'power-on' },
  disconnected: { value: -127, quality: 'disconnected' },
  'blank-scratchpad': { value: 0, quality: 'blank-scratchpad' },
};

export const decodeOneWire = (text: string, arrivedAt: EpochMs): Decoded => {
  const [, rom = '', scratchpad = ''] = linePattern.exec(text.trim()) ?? [];
  if (rom === '') return refuse('one-wire-form');
  const probe = probeOfRom(rom.toLowerCase());
  if (!probe.ok) return refuse(probe.error);
  const series = seriesId(probe.value, 'temperature');
  const read = readDs18b20Hex(scratchpad);
  if (read.ok) {
    const { temperatureC: value } = read.value;
    const { lowest, highest } = channels.temperature;
    return { ...nothing, readings: [{ series, at: arrivedAt, value, quality: value < lowest || value > highest ? 'out-of-range' : 'good' }] };
  }
  if (read.error.code !== 'sensor-fault') return refuse('one-wire-form');
  const kept = falseValues[read.error.fault];
  return kept === undefined ? refuse(read.error.fault === 'checksum' ? 'scratchpad-checksum' : 'scratchpad-range') : { ...nothing, readings: [{ series, at: arrivedAt, ...kept }] };
};

const probeOfRom = (rom: string): Result<Slug, 'rom-checksum' | 'rom-family'> => {
  if (rom.includes('-')) return ok(rom);
  const bytes = rom.match(/../g) ?? [];
  if (crc8(bytes.map((byte) => Number.parseInt(byte, 16))) !== 0) return fail('rom-checksum');
  const [first, ...serial] = bytes.slice(0, -1);
  return first === family ? ok(`${family}-${serial.toReversed().join('')}`) : fail('rom-family');
};
