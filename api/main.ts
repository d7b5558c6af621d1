/**
 * The API as a process: settings, timers, signals. It starts when its parent says that the collector is there, and ends when the
 * channel between them closes. What it runs is wired in `service.ts`.
 */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { addressOf, createLog, fromHere, listenToHints, openReadings, readConfig, readMqttFiles, scaledClock, startChild, textOf, type Config, type Hints } from '#collector';
import { demoUser } from './access/demo-user.ts';
import { prepareFirstOwner } from './access/first-owner.ts';
import { openService } from './service.ts';

const log = createLog({ name: 'api' });
const { version } = JSON.parse(readFileSync(new URL('../package.json', import.meta.url), 'utf8')) as { version: string };

const child = startChild(log);
const failed = (error: unknown): void => log.error({ error: textOf(error) }, 'something went wrong inside');

/** The collector makes the files; modules load meanwhile. */
const collectorReady = (): Promise<string> =>
  new Promise((resolve) => {
    process.once('message', (message: { kind: string; mqttUrl?: string }) => resolve(message.mqttUrl ?? ''));
    child.tell({ kind: 'loaded' });
  });

/** A step is seen three hours after it: minutes more do not matter, and the work is small. */
const askEveryMs = 300_000;

const run = async (config: Config): Promise<void> => {
  const mqttUrl = await collectorReady();
  const broker = new URL(mqttUrl);
  let hints: Hints | null = null;
  const elsewhere = config.store === null ? null : await openReadings({ directory: config.dataDirectory, site: config.site, store: config.store, readOnly: true });
  if (elsewhere?.ok === false) return child.fail(elsewhere.error.message);
  const opened = openService({
    directory: config.dataDirectory,
    ...(elsewhere === null ? {} : { store: elsewhere.value.store }),
    facts: { site: config.site, name: config.siteName, zone: config.zone, version, demo: config.demo, mqtt: { host: broker.hostname.replaceAll(/[[\]]/g, ''), port: Number(broker.port || 1883), external: config.broker !== null } },
    clock: scaledClock(Number(process.env.BRINEWARD_CLOCK_STARTED_AT ?? Date.now()), config.speed),
    machineNow: Date.now,
    demo: config.demo ? { ...demoUser } : null,
    dashboard: fileURLToPath(new URL('../dashboard/dist', import.meta.url)),
    written: (sequence) => hints?.sayJournal(sequence),
    failed,
  });
  if (!opened.ok) return child.fail(opened.error.message);
  const service = opened.value;
  const password = config.demo ? demoUser.password : process.env.BRINEWARD_OWNER_PASSWORD;
  const owner = await prepareFirstOwner(service.access, service.model, password === undefined || password === '' ? null : password);
  if (owner !== null) log.info({ code: owner.setUpCode }, `nobody can sign in yet: open the dashboard and enter the set-up code ${owner.setUpCode}`);

  const port = await service.listen(config.host, config.port);
  if (!port.ok) return child.fail(port.error.message);
  const files = readMqttFiles(config);
  hints = listenToHints({ url: config.broker ?? fromHere(mqttUrl), authority: files.ok ? files.value.authority : null, site: config.site, journal: service.tick, drum: service.drum });
  const timers = [setInterval(service.tick, 1_000), setInterval(service.look, 2_000), setInterval(service.beat, 15_000), setInterval(() => void service.ask(), askEveryMs)];
  void service.ask();

  child.onStop(async () => {
    for (const timer of timers) clearInterval(timer);
    await hints?.close();
    await service.close();
  });
  child.tell({ kind: 'ready', httpUrl: addressOf('http', config.host, port.value) });
};

const config = readConfig(process.argv.slice(2), process.env);
if (config.ok) await run(config.value);
else child.fail(config.error.message);
