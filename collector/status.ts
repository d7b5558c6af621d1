import { readFileSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { OutboxStatus } from '#domain/reading/outbox.ts';
import type { EpochMs } from '#domain/units/time.ts';
import type { WrongClock } from './counters.ts';
import type { OutletStatus } from './outlets/announcer.ts';
import type { SourceStatus } from './sources/source.ts';
import type { WireStatus } from './sources/wire.ts';

/**
 * What the collector says of itself every two seconds, in a small file of the data directory: the API reads it, and its age tells
 * whether the collector lives. It is not state: losing it loses nothing.
 */
export interface CollectorStatus {
  /** On the machine's clock, not the shed's. */
  readonly writtenAt: EpochMs;
  readonly startedAt: EpochMs;
  readonly memoryMb: number;
  readonly broker: WireStatus;
  readonly store: {
    readonly kind: string;
    readonly status: 'ok' | 'lost';
    /** Where readings are kept elsewhere: host and database, why it takes nothing now, and what waits for it here. */
    readonly place?: string;
    readonly trouble?: string | null;
    readonly outbox?: Omit<OutboxStatus, 'trouble'>;
  };
  readonly readings: {
    readonly stored: number;
    readonly duplicates: number;
    readonly conflicts: number;
    readonly late: number;
    readonly waiting: number;
    readonly setAside: number;
    readonly refused: Readonly<Record<string, number>>;
  };
  /** Cables and buses. */
  readonly sources: readonly SourceStatus[];
  /** Ways by which word of the shed reaches people. */
  readonly outlets: readonly OutletStatus[];
  readonly presence: Readonly<Record<string, 'online' | 'offline'>>;
  /** Probes whose readings bear a time that cannot be true. */
  readonly clocks: Readonly<Record<string, WrongClock>>;
}

export const statusEveryMs = 2_000;
/** Without a word for this long the collector counts as silent. */
export const silentAfterMs = 10_000;

const fileIn = (directory: string): string => join(directory, 'collector-status.json');

export const writeStatus = (directory: string, status: CollectorStatus): void => {
  const file = fileIn(directory);
  // Renamed into place, so that a reader never sees half of it.
  writeFileSync(`${file}.new`, JSON.stringify(status));
  renameSync(`${file}.new`, file);
};

export const readStatus = (directory: string): CollectorStatus | null => {
  try {
    // What a version before this one has left says nothing of cables, outlets and clocks.
    return { sources: [], outlets: [], clocks: {}, ...(JSON.parse(readFileSync(fileIn(directory), 'utf8')) as Omit<CollectorStatus, 'sources' | 'outlets' | 'clocks'>) };
  } catch {
    return null;
  }
};
