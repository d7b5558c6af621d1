import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { OutboxStore } from '#domain/reading/outbox.ts';
import type { ReadingStore } from '#domain/reading/store.ts';
import { readInfluxAddress } from '../../collector/stores/influx/address.ts';
import { openInfluxStore, type InfluxOptions } from '../../collector/stores/influx/open.ts';
import type { Influxd } from './influxd.ts';
import type { StoreHarness } from './store-harness.ts';
import { valueOf } from './value-of.ts';

let databases = 0;

export interface InfluxPlace {
  readonly database: string;
  readonly file: string;
  open(options?: Partial<InfluxOptions>): Promise<OutboxStore>;
  remove(): void;
}

/** An outbox of its own, and a database of its own in one InfluxDB. */
export const influxPlace = (influxd: Influxd): InfluxPlace => {
  const directory = mkdtempSync(join(tmpdir(), 'brineward-outbox-'));
  const database = `season_${(databases += 1)}`;
  const file = join(directory, 'outbox.db');
  return {
    database,
    file,
    open: async (options) => valueOf(await openInfluxStore({ address: valueOf(readInfluxAddress(influxd.store(database))), site: 'home', file, ...options })),
    remove: () => rmSync(directory, { recursive: true }),
  };
};

export interface InfluxHarnessOptions {
  readonly name: string;
  readonly options?: Partial<InfluxOptions>;
  /** What is done after each batch is acknowledged. */
  readonly afterAppend?: (store: OutboxStore) => Promise<unknown>;
}

/** The suite opens its places at once; this store is opened by its first call. */
export const influxHarness = (influxd: () => Influxd, { name, options, afterAppend }: InfluxHarnessOptions): StoreHarness => ({
  name,
  isDurable: true,
  createPlace: () => {
    const place = influxPlace(influxd());
    const open = (): ReadingStore => {
      const opening = place.open(options);
      return {
        append: async (readings) => {
          const store = await opening;
          const outcome = await store.append(readings);
          await afterAppend?.(store);
          return outcome;
        },
        latest: async (...asked) => (await opening).latest(...asked),
        recent: async (...asked) => (await opening).recent(...asked),
        raw: async (...asked) => (await opening).raw(...asked),
        view: async (...asked) => (await opening).view(...asked),
        summaries: async () => (await opening).summaries(),
        close: async () => (await opening).close(),
      };
    };
    return { open, dispose: place.remove };
  },
});
