/**
 * The collector as a process: reads probes, stores readings, judges them, lives without the API.
 * Its parent, if any, is told `ready` or `failed` and may end it by closing the channel between them.
 */
import { scaledClock } from './clock.ts';
import { readConfig } from './config.ts';
import { createLog } from './log.ts';
import { startCollector } from './pipeline.ts';
import { statusEveryMs } from './status.ts';

const log = createLog({ name: 'collector' });
const tell = (message: { readonly kind: string; readonly [field: string]: unknown }): void => {
  if (process.send !== undefined && process.connected) process.send(message);
};
const end = (message: string): never => {
  tell({ kind: 'failed', message });
  if (process.send === undefined) process.stderr.write(`${message}\n`);
  process.exit(1);
};

const config = readConfig(process.argv.slice(2), process.env);
if (!config.ok) end(config.error.message);
else {
  const clock = scaledClock(Number(process.env.BRINEWARD_CLOCK_STARTED_AT ?? Date.now()), config.value.speed);
  const started = await startCollector(config.value, {
    clock,
    random: Math.random,
    log,
    restarted: process.env.BRINEWARD_RESTARTED === '1',
    progress: (fraction, text) => tell({ kind: 'progress', fraction, text }),
  });
  if (!started.ok) end(started.error.message);
  else {
    const collector = started.value;
    const guarded = (work: () => void) => (): void => {
      try {
        work();
      } catch (error) {
        log.error({ error: error instanceof Error ? (error.stack ?? error.message) : String(error) }, 'a round of work failed; the next one tries again');
      }
    };
    const timers = [setInterval(guarded(collector.tick), 1_000), setInterval(guarded(collector.sayDrums), 250), setInterval(guarded(collector.sayStatus), statusEveryMs)];
    collector.sayStatus();
    const publisher = collector.demo?.startPublishing(collector.mqttUrl.replace('//0.0.0.0:', '//127.0.0.1:'), log) ?? null;

    let stopping = false;
    const stop = async (): Promise<void> => {
      if (stopping) return;
      stopping = true;
      for (const timer of timers) clearInterval(timer);
      await publisher?.stop();
      await collector.close();
      process.exit(0);
    };
    for (const signal of ['SIGINT', 'SIGTERM'] as const) process.on(signal, () => void stop());
    process.on('disconnect', () => void stop());
    tell({ kind: 'ready', mqttUrl: collector.mqttUrl });
    log.info({ mqtt: collector.mqttUrl, data: config.value.dataDirectory }, 'collecting');
  }
}
