import modbusSerial from 'modbus-serial';
import { fail, ok, type Result } from '#domain/result.ts';
import { guardPort } from '../port-guard.ts';
import type { BusAddress } from './bus-address.ts';
import { wordsOf, type Register } from './register.ts';

/** One open connection to a bus. `silent`: nobody answered, or not so that it can be understood; `refusing`: the device said no. */
export type LinkFailure = { readonly how: 'silent' | 'refusing'; readonly reason: string };

export interface Link {
  readonly isOpen: boolean;
  ask(register: Register): Promise<Result<readonly number[], LinkFailure>>;
  close(): Promise<void>;
}

const ModbusClient = modbusSerial.default;

/** Modbus application protocol V1.1b3, section 7. */
const exceptions: Readonly<Record<number, string>> = {
  1: 'modbus-illegal-function',
  2: 'modbus-illegal-address',
  3: 'modbus-illegal-value',
  4: 'modbus-device-failure',
  5: 'modbus-acknowledge',
  6: 'modbus-busy',
  8: 'modbus-memory-parity',
  10: 'modbus-gateway-path',
  11: 'modbus-gateway-silent',
};

export const openLink = async (bus: BusAddress, timeoutMs: number): Promise<Result<Link, string>> => {
  const client = new ModbusClient();
  client.setTimeout(timeoutMs);
  // Without a listener an error would end the program; what it means shows in the questions that fail.
  client.on('error', () => {});
  let unguard = (): void => {};
  let isGone = false;
  const close = async (): Promise<void> => {
    unguard();
    const isTcp = bus.kind === 'tcp';
    // A socket is let go at once: `close` would wait for the other side, which may be dead.
    await new Promise<void>((resolve) => (isTcp ? client.destroy(() => resolve()) : client.close(() => resolve())));
  };
  try {
    const opening = bus.kind === 'tcp' ? client.connectTCP(bus.host, { port: bus.port }) : client.connectRTUBuffered(bus.path, { baudRate: bus.baud, parity: bus.parity, stopBits: bus.stop, dataBits: 8 });
    keepQuiet(client);
    await opening;
  } catch (cause) {
    await close().catch(() => {});
    return fail(cause instanceof Error ? cause.message : String(cause));
  }
  if (bus.kind === 'rtu') {
    unguard = guardPort(bus.path, () => {
      isGone = true;
    });
  }

  return ok({
    get isOpen() {
      return client.isOpen && !isGone;
    },
    ask: async (register) =>
      new Promise((resolve) => {
        const answer = (error: unknown, result: { readonly data: number[] } | undefined): void => {
          if (result !== undefined && (error === null || error === undefined)) resolve(ok(result.data));
          else resolve(fail(failureOf(error)));
        };
        const words = wordsOf(register.type);
        if (register.function === 3) client.writeFC3(register.unit, register.address, words, answer);
        else client.writeFC4(register.unit, register.address, words, answer);
      }),
    close,
  });
};

/** The library's port says its errors to nobody once it is closed, and nobody listening ends the program. */
const keepQuiet = (client: object): void => {
  const { _port: port } = client as { readonly _port?: { on(event: 'error', listener: () => void): void } };
  port?.on('error', () => {});
};

const failureOf = (error: unknown): LinkFailure => {
  if (typeof error === 'object' && error !== null) {
    if ('modbusCode' in error) {
      const reason = exceptions[Number(error.modbusCode)] ?? 'modbus-exception-unknown';
      return { how: reason.startsWith('modbus-gateway') ? 'silent' : 'refusing', reason };
    }
    if ('errno' in error && error.errno === 'ETIMEDOUT') return { how: 'silent', reason: 'modbus-timeout' };
    if ('message' in error && error.message === 'CRC error') return { how: 'silent', reason: 'modbus-checksum' };
    if ('errno' in error) return { how: 'silent', reason: 'modbus-not-open' };
  }
  return { how: 'silent', reason: 'modbus-answer' };
};
