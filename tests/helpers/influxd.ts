import { spawn, type ChildProcess } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { freePort, listening } from './mosquitto.ts';
import { systemPart } from './system-parts.ts';

/** A real InfluxDB of our own on a free port, with its data in a directory of its own. */
export interface Influxd {
  readonly port: number;
  /** The address of a database, as `--store` takes it. */
  store(database: string): string;
  /** Asks InfluxDB itself, past everything that is tested: rows of the first series. */
  ask(database: string, statement: string): Promise<readonly (readonly (number | string | null)[])[]>;
  down(signal?: NodeJS.Signals): Promise<void>;
  /** Starts it again with what it kept. */
  up(): Promise<void>;
  stop(): Promise<void>;
}

export interface InfluxdOptions {
  /** Only who signs in with this name and password may do anything. */
  readonly owner?: { readonly name: string; readonly password: string };
}

export const startInfluxd = async ({ owner }: InfluxdOptions = {}): Promise<Influxd> => {
  const directory = mkdtempSync(join(tmpdir(), 'influxd-'));
  const port = await freePort();
  const file = join(directory, 'influxdb.conf');
  const settings = (inner: number): string => `reporting-disabled = true
bind-address = "127.0.0.1:${inner}"
[meta]
  dir = "${directory}/meta"
[data]
  dir = "${directory}/data"
  wal-dir = "${directory}/wal"
  query-log-enabled = false
[monitor]
  store-enabled = false
[http]
  bind-address = "127.0.0.1:${port}"
  log-enabled = false
  auth-enabled = ${owner !== undefined}
[logging]
  level = "error"
`;
  const run = async (): Promise<ChildProcess> => {
    writeFileSync(file, settings(await freePort()));
    const child = spawn(systemPart('influxd'), ['run', '-config', file], { stdio: 'ignore' });
    await listening(port, child, 'influxd');
    return child;
  };
  let child: ChildProcess | null = await run();
  const down = async (signal: NodeJS.Signals = 'SIGTERM'): Promise<void> => {
    const running = child;
    child = null;
    if (running === null || running.exitCode !== null) return;
    await new Promise<void>((resolve) => {
      running.once('exit', () => resolve());
      running.kill(signal);
    });
  };
  const headers = owner === undefined ? {} : { authorization: `Basic ${Buffer.from(`${owner.name}:${owner.password}`).toString('base64')}` };
  const ask: Influxd['ask'] = async (database, statement) => {
    const response = await fetch(`http://127.0.0.1:${port}/query`, { method: 'POST', headers, body: new URLSearchParams({ db: database, epoch: 'ms', q: statement }) });
    const { results: [first] = [], error } = (await response.json()) as { results?: { error?: string; series?: { values: (number | string | null)[][] }[] }[]; error?: string };
    if (error !== undefined || first?.error !== undefined) throw new Error(error ?? first?.error);
    return first?.series?.[0]?.values ?? [];
  };
  // The first user of an InfluxDB that asks for names may be made without one.
  if (owner !== undefined) await ask('', `CREATE USER "${owner.name}" WITH PASSWORD '${owner.password}' WITH ALL PRIVILEGES`);
  return {
    port,
    store: (database) => `influx://${owner === undefined ? '' : `${owner.name}:${encodeURIComponent(owner.password)}@`}127.0.0.1:${port}/${database}`,
    ask,
    down,
    up: async () => {
      child ??= await run();
    },
    stop: async () => {
      await down('SIGKILL');
      rmSync(directory, { recursive: true, force: true });
    },
  };
};
