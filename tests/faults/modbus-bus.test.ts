import { createServer, type AddressInfo } from 'node:net';
import { afterAll, expect, test } from 'vitest';
import { startModbus } from '../../collector/sources/modbus/modbus.ts';
import { joinBuses, parseModbusSpec } from '../../collector/sources/modbus/spec.ts';
import type { Reading } from '#domain/reading/reading.ts';
import { layCable } from '../helpers/cable.ts';
import { devicesOnCable, devicesOverTcp, type Devices } from '../helpers/modbus-devices.ts';
import { createPlace } from '../helpers/running.ts';
import { until } from '../helpers/until.ts';

const place = createPlace();
afterAll(place.clear);

const start = (lines: readonly string[]) => {
  const buses = joinBuses(lines.map((line) => {
    const parsed = parseModbusSpec(line);
    if (!parsed.ok) throw new Error(parsed.error);
    return parsed.value;
  }));
  const [bus, ...others] = buses;
  if (bus === undefined || others.length > 0) throw new Error('these tests want one bus');
  const readings: Reading[] = [];
  const source = startModbus({ bus, clock: { now: Date.now }, random: () => 0, sink: { take: (decoded) => readings.push(...decoded.readings), full: () => false, whenRoom: () => {} } });
  place.keep(source.close);
  return { source, latest: (series: string) => readings.findLast((reading) => reading.series === series)?.value };
};

// A transmitter in tenths of a degree below zero, a pH meter in float (4.25 is 40 88 00 00), and a counter with its low word first.
const registers: Devices = { 1: { 0: 0xfff9 }, 7: { 10: 0x4088, 11: 0x0000, 20: 0x0001, 21: 0x0002 } };
const asked = ['unit=1,function=4,address=0,scale=0.1,probe=barrel-1,channel=temperature', 'unit=7,function=3,address=10,type=float32,probe=barrel-7,channel=ph', 'unit=7,function=3,address=20,type=uint32,order=low-first,scale=0.001,probe=barrel-7,channel=salinity'];
const expected = (latest: (series: string) => number | undefined): void => {
  expect(latest('barrel-1/temperature')).toBe(-0.7);
  expect(latest('barrel-7/ph')).toBe(4.25);
  // 0002 0001 hex, thousandths.
  expect(latest('barrel-7/salinity')).toBe(131.073);
};

test('several devices behind one TCP address, one of them silent and one that lacks a register', async () => {
  const devices = await devicesOverTcp(structuredClone(registers));
  place.keep(devices.close);
  const bus = `tcp://127.0.0.1:${devices.port}`;
  const lines = [...asked, 'unit=9,function=4,address=0,probe=barrel-9,channel=temperature,timeout=100', 'unit=1,function=4,address=99,probe=barrel-1,channel=ph'];
  const { source, latest } = start(lines.map((line) => `${bus},${line},every=1`));
  await until('all that answer have answered, and the others failed', () => {
    const { refused, readings } = source.status();
    return readings >= 3 && refused['modbus-timeout'] !== undefined && refused['modbus-illegal-address'] !== undefined;
  });
  expected(latest);
  const status = source.status();
  expect(status).toMatchObject({ kind: 'modbus', name: bus, state: 'ok', trouble: null });
  expect(status.units?.map(({ unit }) => unit)).toEqual([1, 7, 9]);
  expect(status.units?.find(({ unit }) => unit === 9)).toMatchObject({ state: 'silent', answered: 0, lastAnswerAt: null });
  expect(devices.asked).toContain('9/4/0');
}, 60_000);

test('a gateway that goes away and comes back is asked again', async () => {
  const first = await devicesOverTcp(structuredClone(registers));
  place.keep(first.close);
  const { source, latest } = start([`tcp://127.0.0.1:${first.port},unit=1,function=4,address=0,scale=0.1,probe=barrel-1,channel=temperature,every=1,timeout=200`]);
  await until('a reading', () => latest('barrel-1/temperature') === -0.7);
  await first.close();
  await until('it is lost', () => source.status().state === 'lost');
  const second = await devicesOverTcp({ 1: { 0: 185 } }, first.port);
  place.keep(second.close);
  await until('a new reading', () => latest('barrel-1/temperature') === 18.5);
  expect(source.status()).toMatchObject({ state: 'ok', reopened: 1 });
}, 60_000);

test('an address where something else answers, or nothing, is counted and never fatal', async () => {
  const net = createServer((socket) => {
    socket.on('error', () => {});
    socket.on('data', () => socket.write(Buffer.concat([Buffer.from([0, 1, 0, 0, 0, 0]), Buffer.alloc(500, 0xff), Buffer.from('HTTP/1.1 400 Bad Request\r\n\r\n')])));
  });
  await new Promise<void>((resolve) => void net.listen(0, '127.0.0.1', resolve));
  place.keep(async () => new Promise<void>((resolve) => void net.close(() => resolve())));
  const { source } = start([`tcp://127.0.0.1:${(net.address() as AddressInfo).port},unit=1,function=4,address=0,probe=barrel-1,channel=temperature,every=1,timeout=100`]);
  await until('it counts', () => Object.values(source.status().refused).reduce((sum, count) => sum + count, 0) >= 2);
  expect(source.status()).toMatchObject({ readings: 0, state: 'lost' });
}, 60_000);

test('an answer that comes too late on a cable is not taken for the answer to the next question', async () => {
  const cable = await layCable(place.directory(), 'late');
  place.keep(cable.unplug);
  // The first answer comes long after its timeout, when the unit has had its rest; the second takes its time too, so that it could be mistaken.
  const devices = await devicesOnCable({ 1: { 0: 111, 1: 222 } }, cable.devicePath, (nth) => (nth === 0 ? 3_500 : 800));
  place.keep(devices.close);
  const bus = `rtu:${cable.path}?parity=none,unit=1,function=4,scale=0.1,timeout=2000`;
  const { source, latest } = start([`${bus},address=0,probe=first,channel=temperature,every=60`, `${bus},address=1,probe=second,channel=temperature,every=60`]);
  await until('the second is answered', () => latest('second/temperature') !== undefined);
  expect([latest('first/temperature'), latest('second/temperature')]).toEqual([undefined, 22.2]);
  expect(source.status().refused).toEqual({ 'modbus-timeout': 1 });
}, 60_000);

test('a question that is still open does not hold up the end', async () => {
  const devices = await devicesOverTcp({});
  place.keep(devices.close);
  const { source } = start([`tcp://127.0.0.1:${devices.port},unit=1,function=4,address=0,probe=barrel-1,channel=temperature,timeout=60000`]);
  await until('it is asked', () => devices.asked.length === 1);
  await source.close();
  expect(source.status()).toMatchObject({ readings: 0, units: [{ answered: 0 }] });
}, 20_000);

test('a bus on a cable: several devices, one that is silent, a plug pulled and put back', async () => {
  const cable = await layCable(place.directory(), 'bus');
  place.keep(cable.unplug);
  const devices = await devicesOnCable(structuredClone(registers), cable.devicePath);
  place.keep(devices.close);
  const lines = [...asked, 'unit=9,function=4,address=0,probe=barrel-9,channel=temperature,timeout=300'];
  const { source, latest } = start(lines.map((line) => `rtu:${cable.path}?baud=19200&parity=none,${line},every=1`));
  await until('all that answer have answered', () => source.status().readings >= 3 && source.status().refused['modbus-timeout'] !== undefined);
  expected(latest);
  expect(source.status().units?.map(({ unit, state }) => `${unit} ${state}`)).toEqual(['1 ok', '7 ok', '9 silent']);

  await cable.unplug();
  await devices.close();
  await until('it is lost', () => source.status().state === 'lost');
  await cable.plug();
  const again = await devicesOnCable({ 1: { 0: 185 } }, cable.devicePath);
  place.keep(again.close);
  await until('a reading after it', () => latest('barrel-1/temperature') === 18.5);
  expect(source.status().reopened).toBeGreaterThan(0);
}, 90_000);
