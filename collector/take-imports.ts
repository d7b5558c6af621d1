import { byCollector, type Draft } from '#domain/journal/entry.ts';
import type { Shed } from '#domain/journal/shed.ts';
import type { Reading } from '#domain/reading/reading.ts';
import type { AppendOutcome, ReadingStore } from '#domain/reading/store.ts';
import type { Admission } from './admission.ts';
import type { Clock } from './clock.ts';
import { textOf, type Log } from './log.ts';
import { takeFile } from './sources/logger/take-file.ts';

/** The files of loggers, as the pipeline sees them: a look now and then, and an end before the files are closed. */
export interface Imports {
  tick(): void;
  close(): Promise<void>;
}

export interface ImportsOptions {
  readonly directory: string;
  readonly clock: Clock;
  readonly log: Log;
  readonly shed: () => Shed;
  readonly admission: Admission;
  readonly write: (drafts: readonly Draft[]) => void;
  readonly store: Pick<ReadingStore, 'append'>;
  /** Tells the rules, as with the readings of any probe. */
  readonly committed: (readings: readonly Reading[], outcome: AppendOutcome) => void;
}

/** One file after the other, the oldest first. What the store cannot take now is tried again at a later tick. */
export const takeImports = ({ directory, clock, log, shed, admission, write, store, committed }: ImportsOptions): Imports => {
  let running: Promise<void> | null = null;
  let isStopped = false;
  const deps = {
    directory,
    now: clock.now,
    store: async (readings: readonly Reading[]) => {
      const admitted = admission.admit(readings, Number.NaN);
      if (admitted.refused > 0) return null;
      const outcome = await store.append(admitted.readings);
      committed(admitted.readings, outcome);
      return outcome;
    },
    isStopped: () => isStopped,
    breathe: () => new Promise<void>((resolve) => setImmediate(resolve)),
  };
  return {
    tick: () => {
      if (running !== null || isStopped) return;
      const next = [...shed().imports.values()].find(({ finished }) => finished === null);
      if (next === undefined) return;
      running = takeFile(next, deps).then(
        (finished) => {
          if (finished !== null) write([{ who: byCollector, kind: 'import-finished', body: finished }]);
        },
        (error: unknown) => log.error({ error: textOf(error), file: next.file }, 'the file of a logger could not be taken in; it is tried again'),
      );
      void running.finally(() => (running = null));
    },
    close: async () => {
      isStopped = true;
      await running;
    },
  };
};
