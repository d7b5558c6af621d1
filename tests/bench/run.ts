/**
 * `npm run bench`: what acknowledging after commit costs, as ratios against the same libraries used bare, in one run on one machine.
 * Rates drift with the machine; each pair is measured in turn several times and the median ratio is what counts.
 */
import { fork, type ChildProcess } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { freePort, startMosquitto } from '../helpers/mosquitto.ts';
import type { Config } from '../../collector/config.ts';

const site = 'bench';
const program = (name: string): string => fileURLToPath(new URL(`./${name}.ts`, import.meta.url));
const spawn = (name: string, options: object): ChildProcess => fork(program(name), [JSON.stringify(options)], { stdio: ['ignore', 'inherit', 'inherit', 'ipc'] });
const said = (child: ChildProcess, kind: string): Promise<{ at: number }> =>
  new Promise((resolve, reject) => {
    child.on('message', (message: { kind: string; at: number }) => {
      if (message.kind === kind) resolve(message);
    });
    child.once('exit', (code) => reject(new Error(`${child.spawnargs[1] ?? ''} ended with ${code ?? 'a signal'} before it said ${kind}`)));
  });
const end = async (child: ChildProcess): Promise<void> => {
  const gone = new Promise((resolve) => child.once('exit', resolve));
  child.removeAllListeners('message');
  child.kill('SIGKILL');
  await gone;
};

interface Load {
  readonly count: number;
  readonly window: number;
  readonly qos: 0 | 1;
  readonly form: 'plain' | 'senml';
}

/** Messages per second from the first word of the publisher to the last count of the other side. */
const rate = async (url: string, load: Load, counter: ChildProcess, until: 'counted' | 'answered'): Promise<number> => {
  const publisher = spawn('publisher-child', { ...load, url, site, startAt: Date.now() - 600_000 });
  await said(publisher, 'connected');
  const counted = until === 'counted' ? said(counter, 'counted') : said(publisher, 'answered');
  const from = performance.timeOrigin + performance.now();
  publisher.send('go');
  const { at } = await counted;
  await end(publisher);
  return load.count / ((at - from) / 1_000);
};

const withCollector = async (load: Load, broker: string | null, until: 'counted' | 'answered'): Promise<number> => {
  const dataDirectory = mkdtempSync(join(tmpdir(), 'bench-'));
  const mqttPort = await freePort();
  const config: Config = { dataDirectory, host: '127.0.0.1', port: 0, mqttHost: '127.0.0.1', mqttPort, mqttAnonymous: 'auto', mqtts: null, brokerAuthorityFile: null, broker, store: null, outboxReadings: null, mappings: [], serial: [], modbus: [], site, siteName: 'Bench', zone: 'UTC', demo: false, speed: 1 };
  const collector = spawn('collector-child', { config, count: load.count });
  await said(collector, 'ready');
  const measured = await rate(broker ?? `mqtt://127.0.0.1:${mqttPort}`, load, collector, until);
  await end(collector);
  rmSync(dataDirectory, { recursive: true, force: true });
  return measured;
};

const withMosquitto = async (measure: (url: string) => Promise<number>): Promise<number> => {
  const mosquitto = await startMosquitto();
  const measured = await measure(mosquitto.url);
  await mosquitto.stop();
  return measured;
};

const bareSubscriber = (load: Load): Promise<number> =>
  withMosquitto(async (url) => {
    const subscriber = spawn('bare-child', { role: 'subscriber', url, count: load.count, qos: load.qos, site });
    await said(subscriber, 'ready');
    const measured = await rate(url, load, subscriber, 'counted');
    await end(subscriber);
    return measured;
  });

const bareEmbedded = async (load: Load): Promise<number> => {
  const port = await freePort();
  const broker = spawn('bare-child', { role: 'broker', port });
  await said(broker, 'ready');
  const url = `mqtt://127.0.0.1:${port}`;
  const subscriber = spawn('bare-child', { role: 'subscriber', url: `${url}?aedes`, count: load.count, qos: load.qos, site });
  await said(subscriber, 'ready');
  const measured = await rate(url, load, subscriber, 'counted');
  await end(subscriber);
  await end(broker);
  return measured;
};

const median = (values: readonly number[]): number => values.toSorted((one, other) => one - other)[Math.floor(values.length / 2)] ?? Number.NaN;
const rounds = Number(process.env.BENCH_ROUNDS ?? 3);
const scale = Number(process.env.BENCH_SCALE ?? 1);

const pairs: readonly { readonly name: string; readonly bar: number; readonly bare: () => Promise<number>; readonly ours: () => Promise<number> }[] = (() => {
  const qos1: Load = { count: 100_000 * scale, window: 2_000, qos: 1, form: 'senml' };
  const senml: Load = { count: 200_000 * scale, window: 10_000, qos: 0, form: 'senml' };
  const plain: Load = { ...senml, form: 'plain' };
  return [
    { name: 'QoS 1, acknowledged after commit, external broker', bar: 0.8, bare: () => bareSubscriber(qos1), ours: () => withMosquitto((url) => withCollector(qos1, url, 'counted')) },
    { name: 'QoS 1, acknowledged after commit, embedded broker', bar: 0.8, bare: () => bareEmbedded(qos1), ours: () => withCollector(qos1, null, 'counted') },
    { name: 'QoS 0, SenML, durable, external broker', bar: 0.6, bare: () => bareSubscriber(senml), ours: () => withMosquitto((url) => withCollector(senml, url, 'counted')) },
    { name: 'QoS 0, plain numbers, durable, external broker', bar: 0.6, bare: () => bareSubscriber(plain), ours: () => withMosquitto((url) => withCollector(plain, url, 'counted')) },
  ];
})();

console.log('messages/s, bare and ours in turn; the ratio is the median over rounds');
for (const { name, bar, bare, ours } of pairs) {
  const ratios: number[] = [];
  const rates: [number, number][] = [];
  for (let round = 0; round < rounds; round += 1) {
    const pair: [number, number] = [await bare(), await ours()];
    rates.push(pair);
    ratios.push(pair[1] / pair[0]);
  }
  const ratio = median(ratios);
  console.log(`${name}: bare ${Math.round(median(rates.map(([one]) => one)))}, ours ${Math.round(median(rates.map(([, other]) => other)))}, ratio ${ratio.toFixed(2)} (bar ${bar}, ${ratio >= bar ? 'met' : 'NOT met'}; rounds ${ratios.map((each) => each.toFixed(2)).join(' ')})`);
}
process.exit(0);
