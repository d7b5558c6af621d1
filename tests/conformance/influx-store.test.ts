import { afterAll, beforeAll, vi } from 'vitest';
import { influxHarness } from '../helpers/influx-store.ts';
import { startInfluxd, type Influxd } from '../helpers/influxd.ts';
import { readingStoreConformance } from './reading-store.ts';

// A year of readings makes some fifty files in InfluxDB, each waited for.
vi.setConfig({ testTimeout: 60_000 });

let influxd: Influxd;
beforeAll(async () => {
  influxd = await startInfluxd();
});
afterAll(() => influxd.stop());

/** Everything is in InfluxDB before the next question, and only the newest reading of a series stays here: InfluxDB answers. */
readingStoreConformance(influxHarness(() => influxd, { name: 'InfluxDB, sent at once', options: { keepMs: 0 }, afterAppend: (store) => store.settled() }));

/** As in a shed: answers come from here and there, while the sender is at work. */
readingStoreConformance(influxHarness(() => influxd, { name: 'InfluxDB, with what waits' }));
