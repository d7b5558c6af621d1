import { join } from 'node:path';
import { openBook, openSqliteStore, type Clock } from '#collector';
import type { Session } from '#contract';
import type { ReadingStore } from '#domain/reading/store.ts';
import { ok, type Result } from '#domain/result.ts';
import type { EpochMs } from '#domain/units/time.ts';
import { accessFile, openAccessStore, type AccessStore } from './access/access-store.ts';
import { createApp } from './app.ts';
import { createLive } from './events/live.ts';
import { createHttpServer, listen, type ServerLimits } from './server.ts';
import type { SiteFacts } from './routes/site.ts';
import { createDetective } from './shed/detective.ts';
import { createForecasts } from './shed/forecasts.ts';
import { createHeat } from './shed/heat.ts';
import { createHealthWatch } from './shed/health.ts';
import { createVerifier } from './shed/verification.ts';
import { createShedModel, type ShedModel } from './shed/shed-model.ts';

/**
 * The API, wired: journal and readings → model → app → server. It owns no timer, signal or environment: `main.ts` runs it as a
 * process, tests drive it with clocks of theirs.
 */
export interface Service {
  readonly model: ShedModel;
  readonly access: AccessStore;
  /** Once a second: takes in the journal, says what time alone has changed. */
  tick(): void;
  /** Every two seconds: looks whether the collector lives, and says how the shed is doing. */
  look(): void;
  /** Every few minutes: asks what the readings make one ask. */
  ask(): Promise<void>;
  /** Now and then: keeps idle streams open, and ends those of people who have signed out. */
  beat(): void;
  /** Screens listening to the event stream. */
  readonly listeners: number;
  /** The bus says that a drum has news. */
  drum(id: string): void;
  listen(host: string, port: number): Promise<Result<number, { readonly message: string }>>;
  /** Ends every stream and connection, and lets go of the files. */
  close(): Promise<void>;
}

export interface ServiceOptions {
  readonly directory: string;
  /** Readings that are not in the directory; the service closes them. */
  readonly store?: ReadingStore;
  readonly facts: SiteFacts;
  /** The clock of the shed. */
  readonly clock: Clock;
  /** The clock of the machine: sessions and signs of life of the collector. */
  readonly machineNow: () => EpochMs;
  readonly demo: Session['demo'];
  /** The built dashboard; null serves the API alone. */
  readonly dashboard: string | null;
  readonly serverLimits?: ServerLimits;
  /** This process wrote in the journal, up to this entry. */
  written(sequence: number): void;
  failed(error: unknown): void;
}

export const openService = ({ directory, store: elsewhere, facts, clock, machineNow, demo, dashboard, serverLimits, written, failed }: ServiceOptions): Result<Service, { readonly message: string }> => {
  const book = openBook(join(directory, 'book.db'));
  if (!book.ok) return book;
  const store = elsewhere === undefined ? openSqliteStore({ file: join(directory, 'readings.db'), readOnly: true }) : ok(elsewhere);
  if (!store.ok) {
    book.value.close();
    return store;
  }
  const access = openAccessStore(join(directory, accessFile), machineNow);
  if (!access.ok) {
    book.value.close();
    void store.value.close();
    return access;
  }

  const model = createShedModel({
    book: book.value,
    store: store.value,
    clock,
    zone: facts.zone,
    // What is written is written, whether or not the screens could be told.
    taken: (_entry, before, after) => guarded(failed, () => live.journal(before, after)),
    written,
  });
  const forecasts = createForecasts(model);
  const heat = createHeat(model);
  const detective = createDetective(model, heat);
  const health = createHealthWatch(model, directory, facts.version, machineNow());
  const live = createLive(model, forecasts, health.health, failed);
  const app = createApp({
    model,
    forecasts,
    heat,
    access: access.value,
    live,
    facts: { ...facts, name: model.shed().site?.name ?? facts.name },
    demo,
    presenceOf: health.presenceOf,
    clocks: health.clocks,
    healthNow: health.health,
    outletStatus: health.outletStatus,
    log: failed,
    machineNow,
    verifier: createVerifier(model, directory, machineNow, failed),
    directory,
    dashboard,
  });
  const server = createHttpServer(app, failed, serverLimits);
  health.look(machineNow());

  return ok({
    model,
    access: access.value,
    tick: () =>
      guarded(failed, () => {
        model.follow();
        live.tick();
      }),
    look: () =>
      guarded(failed, () => {
        health.look(machineNow());
        live.health(health.health());
      }),
    ask: () => detective.look().catch(failed),
    beat: () => guarded(failed, live.beat),
    drum: live.drum,
    get listeners() {
      return live.listeners;
    },
    listen: (host, port) => listen(server, host, port),
    close: async () => {
      live.close();
      server.closeAllConnections();
      if (server.listening) await new Promise<void>((resolve) => void server.close(() => resolve()));
      await store.value.close();
      book.value.close();
      access.value.close();
    },
  });
};

const guarded = (failed: (error: unknown) => void, work: () => void): void => {
  try {
    work();
  } catch (error) {
    failed(error);
  }
};
