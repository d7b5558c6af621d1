import type { AppendOutcome, ReadingStore } from '#domain/reading/store.ts';
import type { Reading } from '#domain/reading/reading.ts';

/**
 * Many messages, one commit: readings wait a few milliseconds for company, then go into the store in one append, and only then
 * is each message settled. A store that fails is tried again; meanwhile nothing is acknowledged and `full` holds the senders back.
 */
export interface GroupCommit {
  offer(readings: readonly Reading[], settled: () => void): void;
  readonly waiting: number;
  full(): boolean;
  whenRoom(resume: () => void): void;
  /** Commits what waits and takes no more. */
  drain(): Promise<void>;
}

export interface GroupCommitOptions {
  readonly store: Pick<ReadingStore, 'append'>;
  readonly windowMs?: number;
  /** As many readings as go in one commit; a full group does not wait for its window. */
  readonly groupSize?: number;
  /** More than this waiting: senders are held back. */
  readonly mostWaiting?: number;
  committed(readings: readonly Reading[], outcome: AppendOutcome): void;
  failed(error: unknown): void;
  readonly pause?: (ms: number) => Promise<void>;
}

const retryPauseMs = 1_000;

export const createGroupCommit = (options: GroupCommitOptions): GroupCommit => {
  const { store, committed, failed, windowMs = 4, groupSize = 5_000, mostWaiting = 50_000 } = options;
  const pause = options.pause ?? ((ms) => new Promise<void>((resolve) => setTimeout(resolve, ms)));
  let readings: Reading[] = [];
  let settlements: (() => void)[] = [];
  let timer: NodeJS.Timeout | null = null;
  let running: Promise<void> | null = null;
  let resumes: (() => void)[] = [];

  /** Null when trying again cannot help: then nothing of the group is acknowledged, and its senders keep it. */
  const appendUntilDurable = async (group: readonly Reading[]): Promise<AppendOutcome | null> => {
    for (;;) {
      try {
        return await store.append(group);
      } catch (error) {
        failed(error);
        if (!canRetry(error)) return null;
        await pause(retryPauseMs);
      }
    }
  };

  const run = async (): Promise<void> => {
    while (settlements.length > 0) {
      const group = readings;
      const settled = settlements;
      readings = [];
      settlements = [];
      const outcome = group.length === 0 ? undefined : await appendUntilDurable(group);
      if (outcome !== null) {
        if (outcome !== undefined) committed(group, outcome);
        for (const settle of settled) settle();
      }
      if (readings.length < mostWaiting && resumes.length > 0) {
        const waiting = resumes;
        resumes = [];
        for (const resume of waiting) resume();
      }
    }
  };

  const start = () => {
    if (timer !== null) clearTimeout(timer);
    timer = null;
    running ??= run().finally(() => {
      running = null;
      if (settlements.length > 0) schedule();
    });
  };
  const schedule = () => {
    if (running === null && timer === null) timer = setTimeout(start, windowMs);
  };

  return {
    offer: (offered, settled) => {
      for (const reading of offered) readings.push(reading);
      settlements.push(settled);
      if (readings.length >= groupSize) start();
      else schedule();
    },
    get waiting() {
      return readings.length;
    },
    full: () => readings.length >= mostWaiting,
    whenRoom: (resume) => {
      resumes.push(resume);
    },
    drain: async () => {
      start();
      while (running !== null) await running;
    },
  };
};

/** Only what a store says of itself counts; an unknown error may pass. */
const canRetry = (error: unknown): boolean => !(error instanceof RangeError) && !(typeof error === 'object' && error !== null && 'canRetry' in error && error.canRetry === false);
