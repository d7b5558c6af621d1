import type { EpochMs } from '#domain/units/time.ts';
import type { Decoded } from './decoded.ts';

/** Where a source that is no MQTT client hands its readings over: the same admission, the same store, the same counters. */
export interface Sink {
  take(decoded: Decoded, arrivedAt: EpochMs): void;
  /** True while nothing more should be read. */
  full(): boolean;
  /** Called once when there is room again. */
  whenRoom(resume: () => void): void;
}

/** One line of health. A source is never fatal: what is not there is shown, and tried again. */
export interface SourceStatus {
  readonly kind: 'serial' | 'modbus';
  /** The port or address, as it was given. */
  readonly name: string;
  readonly state: 'opening' | 'ok' | 'lost';
  /** Why it is lost, in the words of the machine. */
  readonly trouble: string | null;
  readonly readings: number;
  /** What came and could not be used, by reason. */
  readonly refused: Readonly<Record<string, number>>;
  /** How often it was opened again after it was lost. */
  readonly reopened: number;
  readonly lastReadingAt: EpochMs | null;
  /** Serial: bytes that belonged to no whole frame. */
  readonly bytesDropped?: number;
  /** Serial: what the machine tells of the device in the port, and how often another one was found there. */
  readonly device?: string | null;
  readonly deviceChanges?: number;
  /** Modbus: each device of the bus. */
  readonly units?: readonly UnitStatus[];
}

export interface UnitStatus {
  readonly unit: number;
  readonly state: 'waiting' | 'ok' | 'refusing' | 'silent';
  readonly answered: number;
  readonly failed: number;
  readonly lastAnswerAt: EpochMs | null;
}

export interface Source {
  status(): SourceStatus;
  close(): Promise<void>;
}

/** Counts of one source; reasons are words of this program, so there are few of them. */
export interface SourceCounts {
  readings: number;
  lastReadingAt: EpochMs | null;
  readonly refused: Record<string, number>;
}

export const countDecoded = (counts: SourceCounts, { readings, refused, aside }: Decoded, at: EpochMs): void => {
  counts.readings += readings.length;
  if (readings.length > 0) counts.lastReadingAt = at;
  for (const reason of [...refused, ...aside.map((doubted) => doubted.reason)]) counts.refused[reason] = (counts.refused[reason] ?? 0) + 1;
};
