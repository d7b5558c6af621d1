import { join } from 'node:path';
import { systemClock } from '../../collector/clock.ts';
import { startCollector } from '../../collector/pipeline.ts';
import { openSqliteStore } from '../../collector/stores/sqlite/open.ts';
import type { Config } from '../../collector/config.ts';

/** The collector as it runs, timers and all; says when `count` readings are on disk. */
const { config, count } = JSON.parse(process.argv[2] ?? '{}') as { config: Config; count: number };
const quiet = { info: () => {}, warn: () => {}, error: (fields: unknown) => console.error(fields) };
const started = await startCollector(config, { clock: systemClock, random: Math.random, log: quiet, restarted: false, progress: () => {} });
if (!started.ok) throw new Error(started.error.message);
const collector = started.value;
setInterval(collector.tick, 1_000);
setInterval(collector.sayDrums, 250);
setInterval(collector.sayStatus, 2_000);
const reader = openSqliteStore({ file: join(config.dataDirectory, 'readings.db'), readOnly: true });
if (!reader.ok) throw new Error(reader.error.message);
const countStored = async (): Promise<void> => {
  let stored = 0;
  for (const { count: of } of await reader.value.summaries()) stored += of;
  if (stored >= count) {
    clearInterval(poll);
    process.send?.({ kind: 'counted', at: performance.timeOrigin + performance.now() });
  }
};
const poll = setInterval(() => void countStored(), 20);
process.send?.({ kind: 'ready' });
