import { existsSync } from 'node:fs';
import { join } from 'node:path';
import type { OutboxStore } from '#domain/reading/outbox.ts';
import type { SealingStore } from '#domain/reading/sealing.ts';
import type { ReadingStore } from '#domain/reading/store.ts';
import { fail, ok, type Result } from '#domain/result.ts';
import type { Log } from './log.ts';
import type { CollectorStatus } from './status.ts';
import { openSqliteStore } from './stores/sqlite/open.ts';

/**
 * The readings, wherever they are kept: in `readings.db`, or, with `--store`, in InfluxDB behind the outbox `outbox.db`. Whatever
 * belongs to InfluxDB is loaded only where it is asked for.
 */
export interface Readings {
  readonly store: ReadingStore;
  /** Null where finished days are not sealed into blocks: in InfluxDB readings lie outside, and a block is a thing of this disk. */
  readonly sealing: SealingStore | null;
  status(): CollectorStatus['store'];
  /** Resolves when all that was taken in is where it is kept, or with false when that place does not answer. */
  settled(): Promise<boolean>;
}

export interface ReadingsOptions {
  readonly directory: string;
  readonly site: string;
  /** Where InfluxDB is, or null. */
  readonly store: string | null;
  readonly outboxReadings?: number | undefined;
  readonly readOnly?: boolean;
  /** Told when the store elsewhere is lost, with the reason, and with null when it is back. */
  readonly changed?: (trouble: string | null) => void;
}

export type ReadingsFailure = { readonly code: string; readonly message: string };

const outboxFile = 'outbox.db';

export const openReadings = async (options: ReadingsOptions): Promise<Result<Readings, ReadingsFailure>> => {
  const { directory, readOnly = false } = options;
  if (options.store !== null) return openElsewhere(options, options.store);
  const file = join(directory, 'readings.db');
  if (!existsSync(file) && existsSync(join(directory, outboxFile))) {
    const { lookAtOutbox } = await import('./stores/influx/outbox-file.ts');
    const made = lookAtOutbox(join(directory, outboxFile));
    // Begun there, and asked here without saying so: empty answers would look like lost readings.
    if (made !== null) return fail({ code: 'kept-elsewhere', message: `The readings of ${directory} are in InfluxDB at ${made.place}. Name it with --store; or move them: export with --store, and import into another directory.` });
  }
  const store = openSqliteStore({ file, readOnly });
  if (!store.ok) return store;
  return ok({ store: store.value, sealing: store.value, status: () => ({ kind: 'sqlite', status: 'ok' }), settled: async () => true });
};

const openElsewhere = async ({ directory, site, outboxReadings, readOnly, changed }: ReadingsOptions, url: string): Promise<Result<Readings, ReadingsFailure>> => {
  const [{ openInfluxStore }, { readInfluxAddress }] = await Promise.all([import('./stores/influx/open.ts'), import('./stores/influx/address.ts')]);
  const address = readInfluxAddress(url);
  if (!address.ok) return fail({ code: 'bad-value', message: `--store ${address.error}. Correct it, or leave it out.` });
  const opened = await openInfluxStore({
    address: address.value,
    site,
    file: join(directory, outboxFile),
    ...(readOnly === undefined ? {} : { readOnly }),
    ...(outboxReadings === undefined ? {} : { mostWaiting: outboxReadings }),
    ...(changed === undefined ? {} : { changed }),
  });
  if (!opened.ok) return opened;
  const store: OutboxStore = opened.value;
  return ok({
    store,
    sealing: null,
    settled: () => store.settled(),
    status: () => {
      const { trouble, ...outbox } = store.outbox();
      return { kind: 'influxdb', status: trouble === null ? 'ok' : 'lost', place: address.value.shown, trouble, outbox };
    },
  });
};

/** Before anything is made in a data directory: why InfluxDB cannot be used there for the first time, or null. */
export const whyStoreAway = async ({ directory, store }: Pick<ReadingsOptions, 'directory' | 'store'>): Promise<ReadingsFailure | null> => {
  if (store === null || existsSync(join(directory, outboxFile))) return null;
  const [{ firstLook }, { readInfluxAddress }] = await Promise.all([import('./stores/influx/find-at-start.ts'), import('./stores/influx/address.ts')]);
  const address = readInfluxAddress(store);
  return address.ok ? firstLook(address.value) : { code: 'bad-value', message: `--store ${address.error}. Correct it, or leave it out.` };
};

/** For the start of the watch: what cannot be asked while the store elsewhere is away is begun without, and the watch goes on. */
export const withoutWaiting = (store: ReadingStore): ReadingStore => ({
  ...store,
  view: async (segments, span, points) => {
    try {
      return await store.view(segments, span, points);
    } catch (error) {
      if (error instanceof Error && 'code' in error && error.code === 'unreachable') return { level: 'raw', points: [], gaps: [span] };
      throw error;
    }
  },
});

/** By what name a failed append is counted. */
export const refusalOf = (error: unknown): string => (error instanceof Error && 'code' in error && error.code === 'outbox-full' ? 'outbox-full' : 'store-failed');

export const sayOfStore = (log: Log, trouble: string | null): void => {
  if (trouble === null) log.info('InfluxDB takes readings again');
  else log.warn({ trouble }, 'InfluxDB takes no readings; they wait on this disk and are sent when it is back');
};
