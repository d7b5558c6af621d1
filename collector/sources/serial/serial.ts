import { realpath } from 'node:fs/promises';
import { SerialPort } from 'serialport';
import type { EpochMs } from '#domain/units/time.ts';
import { reconnectPauseMs } from '../pause.ts';
import { guardPort } from '../port-guard.ts';
import { countDecoded, type Sink, type Source, type SourceCounts } from '../source.ts';
import { createSerialDecoder, type SerialDecoder } from './decoder.ts';
import type { SerialSpec } from './spec.ts';

/**
 * A cable: opened, read, and opened again for ever, with growing pauses, whatever happens to it. A port that is not there at the
 * start is shown and waited for like one that was pulled out: people plug things in after they have started a program.
 */
export interface SerialOptions {
  readonly spec: SerialSpec;
  readonly sink: Sink;
  readonly clock: { now(): EpochMs };
  /** Between 0 and 1. */
  readonly random: () => number;
}

/** After this long without a byte, the next one begins a line: within a line they follow each other within milliseconds. */
const quietMs = 1_000;

export const startSerial = ({ spec, sink, clock, random }: SerialOptions): Source => {
  const counts: SourceCounts = { readings: 0, lastReadingAt: null, refused: {} };
  let state: 'opening' | 'ok' | 'lost' = 'opening';
  let trouble: string | null = null;
  let opened = 0;
  let attempt = 0;
  let bytesDropped = 0;
  let device: string | null = null;
  let deviceChanges = 0;
  let isClosing = false;
  let isHeld = false;
  let retry: NodeJS.Timeout | null = null;
  let port: SerialPort | null = null;

  const lost = (why: string): void => {
    if (isClosing || retry !== null) return;
    state = 'lost';
    trouble = why;
    port = null;
    retry = setTimeout(() => {
      retry = null;
      open();
    }, reconnectPauseMs(attempt, random));
    attempt += 1;
  };

  const read = (from: SerialPort, decoder: SerialDecoder, chunk: Uint8Array): void => {
    const arrivedAt = clock.now();
    const before = decoder.bytesDropped;
    for (const decoded of decoder.push(chunk, arrivedAt)) {
      countDecoded(counts, decoded, arrivedAt);
      // A port is well when it brings something that can be used, not when it opens.
      if (decoded.readings.length > 0) attempt = 0;
      sink.take(decoded, arrivedAt);
    }
    bytesDropped += decoder.bytesDropped - before;
    if (!sink.full() || isHeld) return;
    isHeld = true;
    from.pause();
    sink.whenRoom(() => {
      isHeld = false;
      from.resume();
    });
  };

  const open = (): void => {
    const opening = new SerialPort({ path: spec.path, baudRate: spec.baud, autoOpen: false });
    port = opening;
    // Without a listener an error would end the program.
    opening.on('error', (error) => {
      trouble = error.message;
    });
    let unguard = (): void => {};
    opening.on('close', () => {
      unguard();
      lost('the device is gone');
    });
    opening.open((error) => {
      if (error !== null) {
        lost(error.message);
        return;
      }
      if (isClosing) {
        opening.close();
        return;
      }
      const openedAt = clock.now();
      let decoder: SerialDecoder | null = null;
      state = 'ok';
      trouble = null;
      opened += 1;
      unguard = guardPort(spec.path, () => opening.close());
      opening.on('data', (chunk: Uint8Array) => {
        decoder ??= createSerialDecoder(spec, clock.now() - openedAt < quietMs);
        read(opening, decoder, chunk);
      });
      void knowDevice();
    });
  };

  /** A port keeps its name when something else is plugged in: that is told, not judged. */
  const knowDevice = async (): Promise<void> => {
    // The port may be named by a link, such as those in /dev/serial/by-id.
    const found = await Promise.all([SerialPort.list(), realpath(spec.path)]).then(([ports, real]) => ports.find(({ path }) => path === real), () => undefined);
    const named = [found?.manufacturer, found?.vendorId, found?.productId, found?.serialNumber].filter((part) => part !== undefined).join(' ');
    if (named === '') return;
    if (device !== null && device !== named) deviceChanges += 1;
    device = named;
  };

  open();
  return {
    status: () => ({ kind: 'serial', name: spec.path, state, trouble, readings: counts.readings, refused: counts.refused, reopened: Math.max(0, opened - 1), lastReadingAt: counts.lastReadingAt, bytesDropped, device, deviceChanges }),
    close: async () => {
      isClosing = true;
      if (retry !== null) clearTimeout(retry);
      const last = port;
      if (last?.isOpen === true) await new Promise<void>((resolve) => last.close(() => resolve()));
    },
  };
};
