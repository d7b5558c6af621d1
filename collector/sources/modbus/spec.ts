import { channelNames, isChannel } from '#domain/reading/channel.ts';
import { slugPattern } from '#domain/reading/reading.ts';
import { fail, ok, type Result } from '#domain/result.ts';
import { toStoredUnit } from '#domain/units/convert.ts';
import { parsePairs } from '../pairs.ts';
import { parseBusAddress } from './bus-address.ts';
import type { ModbusBus } from './modbus.ts';
import { registerTypes, wordOrders, wordsOf, type Register } from './register.ts';

/** One register as people write it, on the command line or in the settings file: text and numbers alike. */
export type RegisterText = Readonly<Partial<Record<(typeof registerKeys)[number], string>>>;

export const registerKeys = ['unit', 'function', 'address', 'type', 'order', 'scale', 'offset', 'missing', 'in', 'probe', 'channel', 'every'] as const;
const example = 'tcp://192.168.1.20:502,unit=1,function=4,address=0,type=int16,scale=0.1,probe=barrel-2,channel=temperature,every=60';
const usualTimeoutMs = 1_000;
/** Modbus over serial line V1.02, section 2.2: 248 to 255 are reserved. 255 and 0 stand for the gateway itself over TCP. */
const isUnit = (unit: number): boolean => unit <= 247 || unit === 255;

/** `BUS,key=value,…`: one register. Several registers of one bus share its connection. */
export const parseModbusSpec = (text: string): Result<ModbusBus, string> => {
  const [bus = '', ...rest] = text.split(',');
  if (rest.length === 0) return fail(`a bus and a register are needed, such as ${example}`);
  const pairs = parsePairs(rest.join(','), [...registerKeys, 'timeout']);
  if (!pairs.ok) return fail(`${pairs.error} (such as ${example})`);
  const { timeout, ...register } = pairs.value;
  return readBus(bus, timeout, [register]);
};

export const readBus = (bus: string, timeout: string | undefined, texts: readonly RegisterText[]): Result<ModbusBus, string> => {
  const address = parseBusAddress(bus.trim());
  if (!address.ok) return address;
  const timeoutMs = timeout === undefined ? usualTimeoutMs : whole(timeout);
  if (timeoutMs === null || timeoutMs < 50 || timeoutMs > 60_000) return fail('timeout must be from 50 to 60000 milliseconds');
  if (texts.length === 0) return fail('the bus needs at least one register');
  const registers: Register[] = [];
  for (const given of texts) {
    const register = readRegister(given);
    if (!register.ok) return register;
    registers.push(register.value);
  }
  return ok({ name: bus.trim(), address: address.value, timeoutMs, registers });
};

/** Buses that were given more than once become one: a port opens only once, and a bus is asked one question at a time. */
export const joinBuses = (buses: readonly ModbusBus[]): readonly ModbusBus[] => [...Map.groupBy(buses, ({ name }) => name).values()].flatMap(([first, ...more]) => (first === undefined ? [] : [{ ...first, timeoutMs: Math.max(first.timeoutMs, ...more.map(({ timeoutMs }) => timeoutMs)), registers: [first, ...more].flatMap(({ registers }) => registers) }]));

const whole = (text: string): number | null => (/^\d{1,9}$/.test(text) ? Number(text) : null);
const decimal = (text: string): number | null => (/^[+-]?\d+(\.\d+)?([eE][+-]?\d{1,2})?$/.test(text) ? Number(text) : null);

const readRegister = (given: RegisterText): Result<Register, string> => {
  const [unit, address, everyS] = [whole(given.unit ?? '1'), whole(given.address ?? ''), decimal(given.every ?? '60')];
  const [scale, offset] = [decimal(given.scale ?? '1'), decimal(given.offset ?? '0')];
  const missing = (given.missing ?? '').split(' ').filter((part) => part !== '').map(decimal);
  const type = registerTypes.find((known) => known === (given.type ?? 'int16'));
  const order = wordOrders.find((known) => known === (given.order ?? 'high-first'));
  const { probe = '', channel = '', in: inUnit = null } = given;
  if (unit === null || !isUnit(unit)) return fail('unit must be from 0 to 247, or 255');
  if (given.function !== '3' && given.function !== '4') return fail('function must be 3 (holding registers) or 4 (input registers)');
  if (type === undefined) return fail(`type must be one of ${registerTypes.join(', ')}`);
  if (address === null || address + wordsOf(type) > 65_536) return fail('address must be a whole number from 0 to 65535, as it goes over the wire');
  if (order === undefined) return fail(`order must be one of ${wordOrders.join(', ')}`);
  if (scale === null || scale === 0) return fail('scale must be a number that is not zero');
  if (offset === null) return fail('offset must be a number');
  if (missing.includes(null)) return fail('missing must be numbers, with spaces between them');
  if (!slugPattern.test(probe)) return fail('probe must be a name: lower-case letters, digits and dashes, at most 40');
  if (!isChannel(channel)) return fail(`channel must be one of ${channelNames.join(', ')}`);
  if (inUnit !== null && toStoredUnit(channel, 1, inUnit) === null) return fail(`in: ${inUnit} is no unit of ${channel}`);
  if (everyS === null || everyS < 1 || everyS > 86_400) return fail('every must be from 1 to 86400 seconds');
  return ok({ unit, function: given.function === '3' ? 3 : 4, address, type, order, scale, offset, missing: missing.filter((value) => value !== null), in: inUnit, probe, channel, everyS });
};
