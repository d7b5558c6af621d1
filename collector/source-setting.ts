import { z } from 'zod';
import type { Result } from '#domain/result.ts';
import type { ModbusBus } from './sources/modbus/modbus.ts';
import { joinBuses, parseModbusSpec, readBus, registerKeys, type RegisterText } from './sources/modbus/spec.ts';
import { parseSerialSpec, type SerialSpec } from './sources/serial/spec.ts';

/** The settings `serial` and `modbus`: each a line, or a list of lines; a bus may also be written out, with all its registers. */
const lines = z.union([z.string().transform((line) => [line]), z.array(z.string())], 'must be a line, or a list of lines').default([]);

export const serialList = lines.transform((given, context): readonly SerialSpec[] => {
  const specs = allOf(given.map(parseSerialSpec), context);
  const twice = specs.find(({ path }, index) => specs.findIndex((other) => other.path === path) !== index);
  if (twice !== undefined) context.addIssue({ code: 'custom', message: `${twice.path} is given twice` });
  return specs;
});

const scalar = z.union([z.string(), z.number()]).transform(String);
const register = z.strictObject(Object.fromEntries(registerKeys.map((key) => [key, scalar.optional()])));
const bus = z.strictObject({ bus: z.string(), timeout: scalar.optional(), registers: z.array(register) });
const buses = z.union([z.string().transform((line) => [line]), z.array(z.union([z.string(), bus]))], 'must be a line, or a list of lines and buses ({"bus":"tcp://host:502","registers":[…]})').default([]);

export const modbusList = buses.transform((given, context): readonly ModbusBus[] => joinBuses(allOf(given.map((item) => (typeof item === 'string' ? parseModbusSpec(item) : readBus(item.bus, item.timeout, item.registers as readonly RegisterText[]))), context)));

const allOf = <Value>(results: readonly Result<Value, string>[], context: z.RefinementCtx): Value[] =>
  results.flatMap((result) => {
    if (result.ok) return [result.value];
    context.addIssue({ code: 'custom', message: result.error });
    return [];
  });
