/**
 * The API as a process: composition root. Settings → journal and readings → model → app → listen.
 * It starts when its parent says that the collector is there, and ends when the channel between them closes.
 */
import { readFileSync } from 'node:fs';
import { createServer } from 'node:http';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { createLog, listenToHints, openBook, openSqliteStore, readConfig, scaledClock, type Config, type Hints } from '#collector';
import { byApi } from '#domain/journal/entry.ts';
import { openAccessStore, type AccessStore } from './access/access-store.ts';
import { createApp } from './app.ts';
import { createLive } from './events/live.ts';
import { createForecasts } from './shed/forecasts.ts';
import { createHealthWatch } from './shed/health.ts';
import { createShedModel } from './shed/shed-model.ts';

const log = createLog({ name: 'api' });
const demoUser = { name: 'owner', password: 'olives' } as const;
const version = (JSON.parse(readFileSync(new URL('../package.json', import.meta.url), 'utf8')) as { version: string }).version;

const tell = (message: { readonly kind: string; readonly [field: string]: unknown }): void => {
  if (process.send !== undefined && process.connected) process.send(message);
};
const end = (message: string): never => {
  tell({ kind: 'failed', message });
  if (process.send === undefined) process.stderr.write(`${message}\n`);
  process.exit(1);
};
const failed = (error: unknown): void => log.error({ error: error instanceof Error ? (error.stack ?? error.message) : String(error) }, 'something went wrong inside');

/** The collector makes the files; modules load meanwhile. */
const collectorReady = (): Promise<string> =>
  new Promise((resolve) => {
    process.once('message', (message: { kind: string; mqttUrl?: string }) => resolve(message.mqttUrl ?? ''));
    tell({ kind: 'loaded' });
  });

const run = async (config: Config): Promise<void> => {
  const mqttUrl = await collectorReady();
  const clock = scaledClock(Number(process.env.BRINEWARD_CLOCK_STARTED_AT ?? Date.now()), config.speed);
  const book = openBook(join(config.dataDirectory, 'book.db'));
  if (!book.ok) return end(book.error.message);
  const store = openSqliteStore({ file: join(config.dataDirectory, 'readings.db'), readOnly: true });
  if (!store.ok) return end(store.error.message);
  const access = openAccessStore(join(config.dataDirectory, 'access.db'));

  let hints: Hints | null = null;
  const model = createShedModel({
    book: book.value,
    store: store.value,
    clock,
    zone: config.zone,
    taken: (_entry, before, after) => live.journal(before, after),
    written: (sequence) => hints?.sayJournal(sequence),
  });
  const forecasts = createForecasts(model);
  const health = createHealthWatch(model, config.dataDirectory, version, Date.now());
  const live = createLive(model, forecasts, health.health, failed);
  await prepareOwner(config, access, (name, role) => void model.write([{ who: byApi, kind: 'user-added', body: { name, role } }]));

  const broker = new URL(mqttUrl);
  const app = createApp({
    model,
    forecasts,
    access,
    live,
    facts: { site: config.site, name: model.shed().site?.name ?? config.siteName, zone: config.zone, version, demo: config.demo, mqtt: { host: broker.hostname, port: Number(broker.port || 1883), external: config.broker !== null } },
    demo: config.demo ? { ...demoUser } : null,
    presenceOf: health.presenceOf,
    healthNow: health.health,
    log: failed,
    dashboard: fileURLToPath(new URL('../dashboard/dist', import.meta.url)),
  });
  const server = createServer(app);
  server.once('error', (error: NodeJS.ErrnoException) =>
    end(error.code === 'EADDRINUSE' ? `Port ${config.port} on ${config.host} is taken. Stop what uses it, or choose another with --port.` : `Cannot listen on ${config.host}:${config.port} (${error.code ?? error.message}). Choose another with --host and --port.`),
  );
  await new Promise<void>((resolve) => server.listen(config.port, config.host, resolve));
  const address = server.address();
  const port = typeof address === 'object' && address !== null ? address.port : config.port;

  hints = listenToHints({ url: config.broker ?? mqttUrl.replace('//0.0.0.0:', '//127.0.0.1:'), site: config.site, journal: () => void guarded(model.follow)(), drum: live.drum });
  const timers = [
    setInterval(guarded(() => {
      model.follow();
      live.tick();
    }), 1_000),
    setInterval(guarded(() => {
      health.look(Date.now());
      live.health(health.health());
    }), 2_000),
    setInterval(guarded(live.beat), 15_000),
  ];
  health.look(Date.now());

  let stopping = false;
  const stop = async (): Promise<void> => {
    if (stopping) return;
    stopping = true;
    for (const timer of timers) clearInterval(timer);
    live.close();
    server.closeAllConnections();
    await new Promise<void>((resolve) => server.close(() => resolve()));
    await hints?.close();
    await store.value.close();
    book.value.close();
    access.close();
    process.exit(0);
  };
  for (const signal of ['SIGINT', 'SIGTERM'] as const) process.on(signal, () => void stop());
  process.on('disconnect', () => void stop());
  tell({ kind: 'ready', httpUrl: `http://${config.host}:${port}` });
};

/** The first user: from the environment, the demo's, or whoever brings the set-up code that is printed here. */
const prepareOwner = async (config: Config, access: AccessStore, added: (name: string, role: string) => void): Promise<void> => {
  if (access.hasUsers()) return;
  const password = process.env.BRINEWARD_OWNER_PASSWORD ?? (config.demo ? demoUser.password : undefined);
  if (password === undefined) {
    const code = access.makeSetUpCode();
    log.info({ code }, `nobody can sign in yet: open the dashboard and enter the set-up code ${code}`);
    return;
  }
  if (await access.addUser(demoUser.name, 'owner', password)) added(demoUser.name, 'owner');
};

const guarded = (work: () => unknown) => (): void => {
  try {
    work();
  } catch (error) {
    failed(error);
  }
};

const config = readConfig(process.argv.slice(2), process.env);
if (config.ok) await run(config.value);
else end(config.error.message);
