import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { openSqliteStore, verifySeals, walkJournal, walkSeals, type Seals } from '#collector';
import type { Verification } from '#contract';
import { toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { blockFaultText, cutOffUnknown, intactText, journalFaultText, notChecked, readingsElsewhere, sealFaultText } from './fault-words.ts';
import type { ShedModel } from './shed-model.ts';

/** The check of journal, seals and sealed readings beside all other work: a slice at a time, so that nobody waits for it. */
export interface Verifier {
  now(): Verification;
  /** Begins a check, unless one is under way. */
  start(): Verification;
  /** Resolves when no check is under way. */
  ended(): Promise<void>;
}

const never: Verification = { state: 'never', startedAt: null, endedAt: null, entries: 0, ofEntries: 0, days: 0, blocks: 0, ofBlocks: null, text: null };

export const createVerifier = (model: ShedModel, directory: string, machineNow: () => EpochMs, log: (error: unknown) => void): Verifier => {
  let state = never;
  let running: Promise<void> = Promise.resolve();
  const says = (more: Partial<Verification>): void => {
    state = { ...state, ...more };
  };
  const end = (outcome: 'intact' | 'fault' | 'failed', text: string): void => says({ state: outcome, endedAt: toRfc3339(machineNow()), text });

  const run = async (): Promise<void> => {
    const journal = await inSlices(walkJournal(model.book), (entries) => says({ entries }));
    if (journal.fault !== null) return end('fault', journalFaultText(journal.fault, journal.checked));
    const seals = await inSlices(walkSeals(model.book), (days) => says({ days }));
    says({ days: seals.days });
    if (seals.fault !== null) return end('fault', sealFaultText(seals.fault, seals.days));
    const isHere = existsSync(join(directory, 'readings.db'));
    const fault = isHere ? await checkBlocks(seals) : null;
    if (fault !== null) return end('fault', fault);
    end('intact', `${intactText(journal.checked, seals.days, state.blocks)} ${isHere ? notChecked : readingsElsewhere} ${cutOffUnknown}`);
  };

  /** The first block that does not hold, in words. */
  const checkBlocks = async (before: Seals): Promise<string | null> => {
    const store = openSqliteStore({ file: join(directory, 'readings.db'), readOnly: true });
    if (!store.ok) return store.error.message;
    try {
      let seals = before;
      for await (const check of store.value.verifyBlocks(seals.blocks)) {
        says({ blocks: check.checked, ofBlocks: check.total });
        await othersFirst();
        if (check.fault === null) continue;
        // Sealing may go on meanwhile: a block newer than the seals that were read is asked about once more.
        if (check.fault === 'not-in-seal') {
          seals = verifySeals(model.book);
          if (seals.blocks.some((block) => block.series === check.series && block.part === check.part && block.from === check.from)) continue;
        }
        return blockFaultText(check, seals.lines);
      }
      return null;
    } finally {
      await store.value.close();
    }
  };

  return {
    now: () => state,
    start: () => {
      if (state.state === 'running') return state;
      state = { ...never, state: 'running', startedAt: toRfc3339(machineNow()), ofEntries: model.shed().sequence };
      running = run().catch((error: unknown) => {
        log(error);
        end('failed', 'The check could not be ended. Nothing is known to be wrong; the log says more. Try again, or run npm run cli -- verify.');
      });
      return state;
    },
    ended: () => running,
  };
};

const inSlices = async <Found>(walk: Generator<number, Found>, progress: (checked: number) => void): Promise<Found> => {
  for (;;) {
    const step = walk.next();
    if (step.done === true) return step.value;
    progress(step.value);
    await othersFirst();
  }
};

const othersFirst = (): Promise<void> => new Promise((resolve) => void setImmediate(resolve));
