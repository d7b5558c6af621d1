import { fromPlanes, toPlanes } from './byte-planes.ts';
import { MalformedBlock } from './columns.ts';

/**
 * Values as whole numbers of a smallest step (1/16 °C, 0.01 pH …) where every one of them is exactly that many steps, and otherwise as
 * they are. Steps may be written each for itself or as the distance from the one before: which takes less room is found by compressing
 * both. Layout: form, then the scale (scaled forms only: its place in the list below), then the bytes in planes.
 */
const forms = { scaled: 0, distances: 1, doubles: 2 } as const;

/** Steps to one unit. Places in this list are written in blocks: it is only ever added to at its end. */
const scales = [1, 10, 100, 1_000, 10_000, 100_000, 1_000_000, 2, 4, 8, 16, 32, 64, 128, 256] as const;
/** Coarse steps first: they make the smaller numbers. */
const byCoarseness = [...scales].toSorted((one, other) => one - other);
/** The distance of two such numbers still fits into 32 bits. */
const mostSteps = 2 ** 30 - 1;
const littleEndian = new Uint8Array(new Uint16Array([1]).buffer)[0] === 1;

/** Every way to write these values; all read back the same. */
export const valueForms = (values: Float64Array): readonly Uint8Array[] => {
  for (const scale of byCoarseness) {
    const steps = asSteps(values, scale);
    if (steps !== null) {
      const place = scales.indexOf(scale);
      return [withHead([forms.scaled, place], narrowPlanes(folded(steps, false))), withHead([forms.distances, place], narrowPlanes(folded(steps, true)))];
    }
  }
  return [withHead([forms.doubles], toPlanes(new Uint8Array(values.buffer, values.byteOffset, values.byteLength), 8))];
};

export const readValues = (bytes: Uint8Array, count: number): Float64Array => {
  const form = bytes[0];
  if (form === forms.doubles) {
    if (bytes.length !== 1 + 8 * count) throw new MalformedBlock('its values are not as many as it says');
    const values = new Float64Array(fromPlanes(bytes.subarray(1), 8).buffer);
    if (!values.every((value) => Number.isFinite(value))) throw new MalformedBlock('a value is no number');
    return values;
  }
  const scale = scales[bytes[1] ?? scales.length];
  if ((form !== forms.scaled && form !== forms.distances) || scale === undefined) throw new MalformedBlock('its values are in no known form');
  const steps = fromNarrowPlanes(bytes.subarray(2), count);
  const values = new Float64Array(count);
  let before = 0;
  for (let index = 0; index < count; index += 1) {
    const number = unfolded(steps[index] ?? 0);
    before = form === forms.distances ? before + number : number;
    values[index] = before / scale;
  }
  return values;
};

/** Null where one value is not exactly a number of steps; a negative zero is none. */
const asSteps = (values: Float64Array, scale: number): Int32Array | null => {
  const steps = new Int32Array(values.length);
  for (let index = 0; index < values.length; index += 1) {
    const value = values[index] ?? 0;
    const number = Math.round(value * scale);
    if (!(Math.abs(number) <= mostSteps) || !Object.is(number === 0 ? 0 : number / scale, value)) return null;
    steps[index] = number;
  }
  return steps;
};

/** Small numbers of either sign become small numbers: 0, -1, 1, -2 → 0, 1, 2, 3. */
const folded = (steps: Int32Array, asDistances: boolean): Uint32Array => {
  const numbers = new Uint32Array(steps.length);
  let before = 0;
  for (let index = 0; index < steps.length; index += 1) {
    const step = steps[index] ?? 0;
    const number = step - before;
    numbers[index] = (number << 1) ^ (number >> 31);
    if (asDistances) before = step;
  }
  return numbers;
};

const unfolded = (number: number): number => (number >>> 1) ^ -(number & 1);

/** As many bytes a number as the largest takes, written first. */
const narrowPlanes = (numbers: Uint32Array): Uint8Array => {
  let most = 0;
  for (const number of numbers) if (number > most) most = number;
  const width = most < 2 ** 8 ? 1 : most < 2 ** 16 ? 2 : most < 2 ** 24 ? 3 : 4;
  const planes = new Uint8Array(numbers.length * width);
  for (let plane = 0; plane < width; plane += 1) {
    for (let index = 0; index < numbers.length; index += 1) planes[plane * numbers.length + index] = (numbers[index] ?? 0) >>> (8 * plane);
  }
  return withHead([width], planes);
};

const fromNarrowPlanes = (bytes: Uint8Array, count: number): Uint32Array => {
  const width = bytes[0] ?? 0;
  if (width < 1 || width > 4 || bytes.length !== 1 + width * count) throw new MalformedBlock('its values are not as many as it says');
  const numbers = new Uint32Array(count);
  for (let plane = 0; plane < width; plane += 1) {
    for (let index = 0; index < count; index += 1) numbers[index] = ((numbers[index] ?? 0) | ((bytes[1 + plane * count + index] ?? 0) << (8 * plane))) >>> 0;
  }
  return numbers;
};

const withHead = (head: readonly number[], rest: Uint8Array): Uint8Array => {
  if (!littleEndian) throw new Error('blocks are written on little-endian machines only');
  const whole = new Uint8Array(head.length + rest.length);
  whole.set(head);
  whole.set(rest, head.length);
  return whole;
};
