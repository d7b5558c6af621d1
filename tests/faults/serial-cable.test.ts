import { afterAll, expect, test } from 'vitest';
import { startSerial } from '../../collector/sources/serial/serial.ts';
import { parseSerialSpec } from '../../collector/sources/serial/spec.ts';
import type { Source } from '../../collector/sources/source.ts';
import { layCable, type Cable } from '../helpers/cable.ts';
import { frameOf } from '../helpers/frames.ts';
import { createPlace } from '../helpers/running.ts';
import { until } from '../helpers/until.ts';

const place = createPlace();
afterAll(place.clear);

/** The cable, what listens to it, and every value that arrived. */
const listen = async (rest: string, startedWith: 'plugged' | 'unplugged' = 'plugged') => {
  const cable: Cable = await layCable(place.directory());
  place.keep(cable.unplug);
  if (startedWith === 'unplugged') await cable.unplug();
  const values: number[] = [];
  let isFull = false;
  let resume = (): void => {};
  // A clock of the test: a second after each opening, so that no first line counts as cut.
  let now = Date.UTC(2026, 4, 3, 6);
  const spec = parseSerialSpec(`path=${cable.path}${rest}`);
  if (!spec.ok) throw new Error(spec.error);
  const source: Source = startSerial({
    spec: spec.value,
    clock: { now: () => (now += 1_000) },
    random: () => 0,
    sink: { take: ({ readings }) => values.push(...readings.map(({ value }) => value)), full: () => isFull, whenRoom: (again) => (resume = again) },
  });
  place.keep(source.close);
  return { cable, source, values, hold: () => (isFull = true), letGo: () => ((isFull = false), resume()) };
};
const state = async (source: Source, wanted: string): Promise<unknown> => until(`the port is ${wanted}`, () => source.status().state === wanted);

test('a cable that is pulled out and put back is read again, and says so', async () => {
  const { cable, source, values } = await listen(',probe=barrel-2');
  await state(source, 'ok');
  await cable.say('temperature 18.25\n');
  await until('the first value', () => values.length === 1);
  // Half a line is on the way when the plug is pulled: it must not be glued to what comes after.
  await cable.say('temperature 1');
  await cable.unplug();
  await state(source, 'lost');
  expect(source.status().trouble).toBe('the device is gone');
  await cable.plug();
  await state(source, 'ok');
  await cable.say('temperature 19.5\n');
  await until('a value after it', () => values.length === 2);
  expect(values).toEqual([18.25, 19.5]);
  expect(source.status()).toMatchObject({ reopened: 1, readings: 2, refused: {}, trouble: null });
}, 60_000);

test('a cable that is not there at the start is waited for, whatever is plugged in first', async () => {
  const { cable, source, values } = await listen(',framing=frame,probe=barrel-2', 'unplugged');
  await state(source, 'lost');
  expect(source.status()).toMatchObject({ reopened: 0, readings: 0 });
  await cable.plug();
  await state(source, 'ok');
  // Another device speaks at the wrong speed; then the right one takes its place in the same port.
  await cable.say(Uint8Array.from({ length: 5_000 }, (_empty, index) => (index * 7) & 0xff));
  await until('noise is counted', () => Object.keys(source.status().refused).length > 0);
  await cable.unplug();
  await state(source, 'lost');
  await cable.plug();
  await state(source, 'ok');
  await cable.say(frameOf('temperature 18.25'));
  await until('the value', () => values.length > 0);
  expect(values).toEqual([18.25]);
  expect(source.status().bytesDropped).toBeGreaterThan(1_000);
}, 60_000);

test('a flood of malformed lines is counted, each of them, and the reading after it is taken', async () => {
  const { cable, source, values } = await listen(',probe=barrel-2');
  await state(source, 'ok');
  const count = 5_000;
  await cable.say(Array.from({ length: count }, (_empty, index) => `temperature ${index % 2 === 0 ? 'warm' : '1.2.3'} \n`).join(''));
  await cable.say('temperature 18.25\n');
  await until('what came after the flood', () => values.length > 0);
  expect(source.status()).toMatchObject({ state: 'ok', readings: 1, refused: { 'not-a-number': count } });
}, 60_000);

test('while the store is full the cable waits, and loses nothing that the machine can hold', async () => {
  const { cable, source, values, hold, letGo } = await listen(',probe=barrel-2');
  await state(source, 'ok');
  hold();
  await cable.say('temperature 1\n');
  await until('the first value', () => values.length === 1);
  await cable.say(Array.from({ length: 200 }, (_empty, index) => `temperature ${index + 2}\n`).join(''));
  letGo();
  await until('all values', () => values.length === 201);
  expect(values).toEqual(Array.from({ length: 201 }, (_empty, index) => index + 1));
}, 60_000);
