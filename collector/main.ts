/**
 * The collector as a process: reads probes, stores readings, judges them, lives without the API.
 */
import { startChild } from './child.ts';
import { scaledClock } from './clock.ts';
import { readConfig } from './config.ts';
import { createLog, textOf } from './log.ts';
import { startCollector } from './pipeline.ts';
import { fromHere } from './sources/address.ts';
import { statusEveryMs } from './status.ts';

const log = createLog({ name: 'collector' });
const child = startChild(log);

const config = readConfig(process.argv.slice(2), process.env);
if (!config.ok) child.fail(config.error.message);
else {
  const clock = scaledClock(Number(process.env.BRINEWARD_CLOCK_STARTED_AT ?? Date.now()), config.value.speed);
  const started = await startCollector(config.value, {
    clock,
    random: Math.random,
    log,
    restarted: process.env.BRINEWARD_RESTARTED === '1',
    progress: (fraction, text) => child.tell({ kind: 'progress', fraction, text }),
  });
  if (!started.ok) child.fail(started.error.message);
  else {
    const collector = started.value;
    const guarded = (work: () => void) => (): void => {
      try {
        work();
      } catch (error) {
        log.error({ error: textOf(error) }, 'a round of work failed; the next one tries again');
      }
    };
    const timers = [setInterval(guarded(collector.tick), 1_000), setInterval(guarded(collector.sayDrums), 250), setInterval(guarded(collector.sayStatus), statusEveryMs)];
    // Whoever comes when it is ready finds the state of the shed on the bus and in the status file.
    collector.sayDrums();
    collector.sayStatus();
    const publisher = collector.demo?.startPublishing(fromHere(collector.mqttUrl), log) ?? null;

    child.onStop(async () => {
      for (const timer of timers) clearInterval(timer);
      await publisher?.stop();
      await collector.close();
    });
    child.tell({ kind: 'ready', mqttUrl: collector.mqttUrl });
    log.info({ mqtt: collector.mqttUrl, data: config.value.dataDirectory }, 'collecting');
  }
}
