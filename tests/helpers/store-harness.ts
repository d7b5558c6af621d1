import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { bucketStart } from '#domain/reading/rollup.ts';
import type { SealingStore } from '#domain/reading/sealing.ts';
import type { ReadingStore } from '#domain/reading/store.ts';
import { dayMs, hourMs } from '#domain/units/time.ts';
import { createMemoryStore } from '../../collector/stores/memory.ts';
import { openSqliteStore } from '../../collector/stores/sqlite/open.ts';
import { valueOf } from './value-of.ts';

/** One empty place for readings, and how to open it. */
export interface StorePlace {
  /** Opens the place; again after `close`, where it is durable. */
  readonly open: () => ReadingStore;
  readonly dispose: () => void;
}

/** A member of the conformance suite and what it can do. */
export interface StoreHarness {
  readonly name: string;
  /** What was appended is there again after the store is closed and opened anew. */
  readonly isDurable: boolean;
  readonly createPlace: () => StorePlace;
}

/** What a part of the suite is given: a store that is fresh in each test. */
export interface StoreUnderTest {
  readonly store: () => ReadingStore;
  /** Closes the store and opens the same place again. */
  readonly reopen: () => Promise<ReadingStore>;
}

export const memoryHarness: StoreHarness = {
  name: 'memory',
  isDurable: false,
  createPlace: () => ({ open: createMemoryStore, dispose: () => undefined }),
};

export const createDataDirectory = (): { readonly file: string; readonly remove: () => void } => {
  const directory = mkdtempSync(join(tmpdir(), 'brineward-readings-'));
  return { file: join(directory, 'readings.db'), remove: () => rmSync(directory, { recursive: true }) };
};

export const sqliteHarness: StoreHarness = {
  name: 'SQLite',
  isDurable: true,
  createPlace: () => {
    const { file, remove } = createDataDirectory();
    return { open: () => valueOf(openSqliteStore({ file })), dispose: remove };
  },
};

/** Seals the day of every reading that is not sealed yet; days begin and end in the middle of six-hour intervals, as in most zones. */
export const sealBehind = async (store: SealingStore): Promise<void> => {
  for (let at = await store.firstUnsealed(-Infinity); at !== null; at = await store.firstUnsealed(at)) {
    const from = bucketStart(at, dayMs) - 2 * hourMs;
    const day = at < from + dayMs ? { from, to: from + dayMs } : { from: from + dayMs, to: from + 2 * dayMs };
    await store.seal(day);
  }
};

/** Everything appended is sealed at once: no question is answered from rows. */
export const sealedHarness: StoreHarness = {
  name: 'SQLite, sealed behind',
  isDurable: true,
  createPlace: () => {
    const { file, remove } = createDataDirectory();
    return {
      open: () => {
        const store = valueOf(openSqliteStore({ file }));
        return {
          ...store,
          append: async (readings) => {
            const outcome = await store.append(readings);
            await sealBehind(store);
            return outcome;
          },
        };
      },
      dispose: remove,
    };
  },
};
