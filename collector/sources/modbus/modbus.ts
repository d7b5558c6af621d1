import type { EpochMs } from '#domain/units/time.ts';
import { reconnectPauseMs } from '../pause.ts';
import type { Decoded } from '../decoded.ts';
import { refuse } from '../payload.ts';
import { countDecoded, type Sink, type Source, type SourceCounts } from '../source.ts';
import type { BusAddress } from './bus-address.ts';
import { openLink, type Link } from './link.ts';
import { createPollPlan } from './poll.ts';
import { decodeRegister, type Register } from './register.ts';

/** A bus of devices that speak only when asked: asked one at a time, by plan, for ever. */
export interface ModbusBus {
  /** As it was given. */
  readonly name: string;
  readonly address: BusAddress;
  readonly timeoutMs: number;
  readonly registers: readonly Register[];
}

export interface ModbusOptions {
  readonly bus: ModbusBus;
  readonly sink: Sink;
  readonly clock: { now(): EpochMs };
  /** Between 0 and 1. */
  readonly random: () => number;
}

/** After so many questions without any answer the connection itself is doubted and made anew. */
const mostSilent = 3;
const longestWaitMs = 1_000;
/** Modbus over serial line V1.02, section 2.5.1.1: 3.5 characters of 11 bits between frames. */
const quietMs = (address: BusAddress): number => (address.kind === 'rtu' ? Math.ceil((3.5 * 11 * 1_000) / address.baud) : 0);

export const startModbus = ({ bus, sink, clock, random }: ModbusOptions): Source => {
  const counts: SourceCounts = { readings: 0, lastReadingAt: null, refused: {} };
  const plan = createPollPlan(bus.registers, clock.now());
  let link: Link | null = null;
  let trouble: string | null = null;
  let opened = 0;
  let attempt = 0;
  let silentInARow = 0;
  let isClosing = false;
  let timer: NodeJS.Timeout | null = null;
  let round: Promise<void> | null = null;

  const take = (decoded: Decoded): void => {
    countDecoded(counts, decoded, clock.now());
    sink.take(decoded, clock.now());
  };
  const wait = async (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));
  const letGo = async (): Promise<void> => {
    const open = link;
    link = null;
    await open?.close();
  };

  /** True when there is a connection to ask on. */
  const connect = async (): Promise<boolean> => {
    if (link?.isOpen === true) return true;
    await letGo();
    const made = await openLink(bus.address, bus.timeoutMs);
    if (!made.ok) {
      trouble = made.error;
      take(refuse('modbus-unreachable'));
      return false;
    }
    link = made.value;
    trouble = null;
    attempt = 0;
    opened += 1;
    silentInARow = 0;
    return true;
  };

  const ask = async (open: Link, register: Register): Promise<void> => {
    const answer = await open.ask(register);
    if (answer.ok) {
      silentInARow = 0;
      plan.answered(register, clock.now());
      take(decodeRegister(register, answer.value, clock.now()));
      return wait(quietMs(bus.address));
    }
    const { how, reason } = answer.error;
    silentInARow = how === 'silent' ? silentInARow + 1 : 0;
    plan.failed(register, clock.now(), how);
    take(refuse(reason));
    if (silentInARow >= mostSilent) {
      trouble = 'no device answers';
      await letGo();
    }
    // On a serial bus an answer does not say to what: one that comes late must not be taken for the answer to the next question.
    return wait(bus.address.kind === 'rtu' && how === 'silent' ? bus.timeoutMs : quietMs(bus.address));
  };

  /** Asks what is due, then says how long to wait. */
  const poll = async (): Promise<number> => {
    while (!isClosing) {
      if (sink.full()) await new Promise<void>((resolve) => sink.whenRoom(resolve));
      const register = plan.due(clock.now());
      if (register === null) return Math.min(Math.max(plan.nextAt() - clock.now(), 1), longestWaitMs);
      if (!(await connect())) {
        attempt += 1;
        return reconnectPauseMs(attempt - 1, random);
      }
      if (link !== null) await ask(link, register);
    }
    return 0;
  };
  const next = (afterMs: number): void => {
    if (isClosing) return;
    timer = setTimeout(() => {
      round = poll().then(next, (error: unknown) => {
        trouble = error instanceof Error ? error.message : String(error);
        next(longestWaitMs);
      });
    }, afterMs);
  };

  next(0);
  return {
    status: () => {
      const units = plan.units();
      const isLost = trouble !== null || (link !== null && !link.isOpen) || units.every(({ state }) => state === 'silent');
      return { kind: 'modbus', name: bus.name, state: isLost ? 'lost' : opened === 0 ? 'opening' : 'ok', trouble, readings: counts.readings, refused: counts.refused, reopened: Math.max(0, opened - 1), lastReadingAt: counts.lastReadingAt, units };
    },
    close: async () => {
      isClosing = true;
      if (timer !== null) clearTimeout(timer);
      await letGo();
      // A question that is still open is not waited for longer than a stop may take.
      await Promise.race([round, wait(Math.min(bus.timeoutMs, longestWaitMs))]);
      await letGo();
    },
  };
};
