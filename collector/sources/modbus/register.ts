import { judgeValue } from '#domain/reading/admit.ts';
import type { Channel } from '#domain/reading/channel.ts';
import { seriesId, type Slug } from '#domain/reading/reading.ts';
import { fail, ok, type Result } from '#domain/result.ts';
import { toStoredUnit } from '#domain/units/convert.ts';
import type { EpochMs } from '#domain/units/time.ts';
import type { Decoded } from '../decoded.ts';
import { nothing, refuse } from '../payload.ts';

/** What one quantity of one device is made of, as its manual tells it. */
export interface Register {
  readonly unit: number;
  /** 3 reads holding registers, 4 input registers. */
  readonly function: 3 | 4;
  /** As it goes over the wire, from 0: "40001" or "30001" of many manuals is 0. */
  readonly address: number;
  readonly type: RegisterType;
  /** Which of the two registers of a 32-bit value comes first. */
  readonly order: (typeof wordOrders)[number];
  /** value = raw × scale + offset, in `in`. */
  readonly scale: number;
  readonly offset: number;
  /** Raw values that mean "no sensor". */
  readonly missing: readonly number[];
  /** The unit the device counts in, if it is not that of the channel. */
  readonly in: string | null;
  readonly probe: Slug;
  readonly channel: Channel;
  readonly everyS: number;
}

export const registerTypes = ['int16', 'uint16', 'int32', 'uint32', 'float32'] as const;
export type RegisterType = (typeof registerTypes)[number];
export const wordOrders = ['high-first', 'low-first'] as const;

export const wordsOf = (type: RegisterType): 1 | 2 => (type === 'int16' || type === 'uint16' ? 1 : 2);

/**
 * The number in one or two registers of 16 bits, each high byte first (Modbus application protocol V1.1b3, section 4.2).
 * Which register of a pair comes first is not in the standard. Example: 41 92 00 00 is 18.25 as `float32`, high word first.
 */
export const rawValue = (type: RegisterType, order: Register['order'], words: readonly number[]): Result<number, 'modbus-length'> => {
  if (words.length !== wordsOf(type) || words.some((word) => !Number.isInteger(word) || word < 0 || word > 0xffff)) return fail('modbus-length');
  const view = new DataView(new ArrayBuffer(4));
  for (const [index, word] of (order === 'high-first' ? words : words.toReversed()).entries()) view.setUint16(2 * index, word);
  const read = { int16: () => view.getInt16(0), uint16: () => view.getUint16(0), int32: () => view.getInt32(0), uint32: () => view.getUint32(0), float32: () => view.getFloat32(0) };
  return ok(read[type]());
};

/** Twelve digits: what floating point adds to 0.1 × 183 is no part of a measurement. */
const rounded = (value: number): number => Number(value.toPrecision(12));

export const decodeRegister = (register: Register, words: readonly number[], at: EpochMs): Decoded => {
  const raw = rawValue(register.type, register.order, words);
  if (!raw.ok) return refuse(raw.error);
  if (register.missing.includes(raw.value)) return refuse('modbus-missing');
  const value = Number.isFinite(raw.value) ? toStoredUnit(register.channel, rounded(raw.value * register.scale + register.offset), register.in) : null;
  if (value === null || !Number.isFinite(value)) return refuse('not-a-number');
  return { ...nothing, readings: [{ series: seriesId(register.probe, register.channel), at, value, quality: judgeValue(register.channel, value) }] };
};
