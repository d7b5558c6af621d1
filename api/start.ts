/**
 * The supervisor: starts collector and API, says when both are ready, starts one that dies again, and stops both cleanly.
 * One line on stdout when ready; one line and exit 1 when it cannot start.
 */
import { fork, type ChildProcess } from 'node:child_process';
import { createServer } from 'node:net';
import { fileURLToPath } from 'node:url';
import { collectorProgram, createLog, readConfig, type Config } from '#collector';

const apiProgram = fileURLToPath(new URL('./main.ts', import.meta.url));
const log = createLog({ name: 'supervisor' });
const stopWithinMs = 4_000;
const shortestPauseMs = 500;
const longestPauseMs = 30_000;
/** A child that lived this long starts with a short pause again. */
const settledMs = 60_000;

interface Message {
  readonly kind: 'ready' | 'failed' | 'progress' | 'loaded';
  readonly message?: string;
  readonly mqttUrl?: string;
  readonly httpUrl?: string;
  readonly fraction?: number;
  readonly text?: string;
}

const argv = process.argv.slice(2);
const environment = { ...process.env, BRINEWARD_CLOCK_STARTED_AT: process.env.BRINEWARD_CLOCK_STARTED_AT ?? String(Date.now()) };
let stopping = false;
let ready = false;
let mqttUrl: string | null = null;
let httpUrl: string | null = null;
const children = new Map<string, ChildProcess>();

const giveUp = (message: string): void => {
  if (stopping) return;
  process.stderr.write(`${message}\n`);
  void stop(1);
};

const start = (name: 'collector' | 'api', attempt: number, firstTime: boolean): void => {
  if (stopping) return;
  const program = name === 'collector' ? collectorProgram : apiProgram;
  const child = fork(program, argv, { env: { ...environment, ...(firstTime ? {} : { BRINEWARD_RESTARTED: '1' }) }, stdio: ['ignore', 'inherit', 'inherit', 'ipc'] });
  const startedAt = Date.now();
  let failure: string | null = null;
  let loaded = false;
  children.set(name, child);

  const tellApi = (): void => {
    if (name === 'api' && loaded && mqttUrl !== null) child.send({ kind: 'start', mqttUrl });
  };
  child.on('message', (message: Message) => {
    switch (message.kind) {
      case 'loaded':
        loaded = true;
        tellApi();
        break;
      case 'progress':
        sayProgress(message.fraction ?? 0, message.text ?? '');
        break;
      case 'failed':
        failure = message.message ?? 'it gave no reason';
        break;
      case 'ready':
        if (name === 'collector') {
          const first = mqttUrl === null;
          mqttUrl = message.mqttUrl ?? '';
          if (first) children.get('api')?.emit('collector-ready');
        } else httpUrl = message.httpUrl ?? '';
        sayReady();
        break;
    }
  });
  if (name === 'api') child.on('collector-ready', tellApi);
  child.on('exit', (code, signal) => {
    children.delete(name);
    if (stopping) return;
    if (!ready && failure !== null) {
      giveUp(failure);
      return;
    }
    if (!ready && firstTime) {
      giveUp(`The ${name} ended before it was ready (${signal ?? code ?? ''}). Its log above says why.`);
      return;
    }
    const lived = Date.now() - startedAt;
    const next = lived > settledMs ? 0 : attempt + 1;
    const pauseMs = Math.min(longestPauseMs, shortestPauseMs * 2 ** Math.min(attempt, 6));
    log.warn({ child: name, code, signal, pauseMs, ...(failure === null ? {} : { failure }) }, `the ${name} ended; it is started again`);
    setTimeout(() => start(name, next, false), lived > settledMs ? shortestPauseMs : pauseMs);
  });
};

const sayReady = (): void => {
  if (ready || mqttUrl === null || httpUrl === null) return;
  ready = true;
  process.stdout.write(`ready ${httpUrl} ${mqttUrl}\n`);
};

let lastProgress = -1;
const sayProgress = (fraction: number, text: string): void => {
  const percent = Math.floor(fraction * 10) * 10;
  if (percent === lastProgress) return;
  lastProgress = percent;
  process.stderr.write(process.stderr.isTTY ? `\r${text} ${percent} %${percent >= 100 ? '\n' : ''}` : `${text} ${percent} %\n`);
};

const stop = async (exitCode: number): Promise<void> => {
  stopping = true;
  const ended = [...children.values()].map(
    (child) =>
      new Promise<void>((resolve) => {
        const kill = setTimeout(() => child.kill('SIGKILL'), stopWithinMs);
        child.once('exit', () => {
          clearTimeout(kill);
          resolve();
        });
        child.kill('SIGTERM');
      }),
  );
  await Promise.all(ended);
  process.exit(exitCode);
};
for (const signal of ['SIGINT', 'SIGTERM'] as const) process.on(signal, () => void (stopping ? undefined : stop(0)));

/** Nothing is made or changed before it is clear that both can listen. */
const portIsFree = (host: string, port: number): Promise<boolean> =>
  new Promise((resolve) => {
    const probe = createServer();
    probe.once('error', (error: NodeJS.ErrnoException) => resolve(error.code !== 'EADDRINUSE'));
    probe.listen(port, host, () => probe.close(() => resolve(true)));
  });

const begin = async (config: Config): Promise<void> => {
  if (!(await portIsFree(config.host, config.port))) return giveUp(`Port ${config.port} on ${config.host} is taken. Stop what uses it, or choose another with --port.`);
  if (config.broker === null && !(await portIsFree(config.mqttHost, config.mqttPort))) return giveUp(`MQTT port ${config.mqttPort} on ${config.mqttHost} is taken. Stop what uses it, or choose another with --mqtt-port.`);
  start('collector', 0, true);
  start('api', 0, true);
};

const config = readConfig(argv, process.env);
if (config.ok) await begin(config.value);
else giveUp(config.error.message);
