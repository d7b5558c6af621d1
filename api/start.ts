/**
 * The supervisor: starts collector and API, says when both are ready, starts one that dies again, and stops both cleanly.
 * One line on stdout when ready; one line and exit 1 when it cannot start.
 */
import { fork, type ChildProcess } from 'node:child_process';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { collectorProgram, createLog, lookAtDatabase, lookAtDirectory, readConfig, type Config } from '#collector';
import { accessFile, accessVersion } from './access/access-store.ts';
import { demoUser } from './access/demo-user.ts';
import { whyNotHttp, whyNotMqtt } from './may-listen.ts';

const apiProgram = fileURLToPath(new URL('./main.ts', import.meta.url));
const log = createLog({ name: 'supervisor' });
/** Together less than the five seconds in which everything has ended. */
const apiStopWithinMs = 1_500;
const collectorStopWithinMs = 3_000;
const shortestPauseMs = 500;
const longestPauseMs = 10_000;
/** A child that worked this long starts with the shortest pause again; one that dies at once must not keep the machine busy. */
const settledMs = 500;

interface Message {
  readonly kind: 'ready' | 'failed' | 'progress' | 'loaded';
  readonly message?: string;
  readonly mqttUrl?: string;
  readonly httpUrl?: string;
  readonly fraction?: number;
  readonly text?: string;
}

const argv = process.argv.slice(2);
const config = readConfig(argv, process.env);
const isDemo = config.ok && config.value.demo;
const isEmbedded = config.ok && config.value.broker === null;
/** Types are stripped and code compiled once, not at every start of a child: that halves the time to ready. */
const compiled = fileURLToPath(new URL('../node_modules/.cache/compiled', import.meta.url));
const environment = { NODE_COMPILE_CACHE: compiled, ...process.env, BRINEWARD_CLOCK_STARTED_AT: process.env.BRINEWARD_CLOCK_STARTED_AT ?? String(Date.now()) };
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
  const child = fork(program, [...argv, ...portsSoFar()], { env: { ...environment, ...(firstTime ? {} : { BRINEWARD_RESTARTED: '1' }) }, stdio: ['ignore', 'inherit', 'inherit', 'ipc'] });
  let readyAt: number | null = null;
  let failure: string | null = null;
  let loaded = false;
  children.set(name, child);

  const tellApi = (): void => {
    if (name === 'api' && loaded && mqttUrl !== null && child.connected) child.send({ kind: 'start', mqttUrl });
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
        readyAt = performance.now();
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
  // A message to a child that is just ending; its exit is what counts.
  child.on('error', (error) => log.warn({ child: name, error: error.message }, 'a child could not be reached'));
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
    const worked = readyAt !== null && performance.now() - readyAt > settledMs;
    const pauseMs = worked ? shortestPauseMs : Math.min(longestPauseMs, shortestPauseMs * 2 ** Math.min(attempt, 6));
    log.warn({ child: name, code, signal, pauseMs, ...(failure === null ? {} : { failure }) }, `the ${name} ended; it is started again`);
    setTimeout(() => start(name, worked ? 0 : attempt + 1, false), pauseMs);
  });
};

/** Ports the machine picked (port 0) are kept over a restart: probes and screens come back to the ones they know. */
const portsSoFar = (): string[] => [...(httpUrl === null ? [] : ['--port', portOf(httpUrl)]), ...(mqttUrl === null || !isEmbedded ? [] : ['--mqtt-port', portOf(mqttUrl)])];
/** Read from the text: `URL` leaves out the usual port of a scheme. */
const portOf = (url: string): string => /\d+$/.exec(url)?.[0] ?? '';

/** Without names, passwords or paths an address of a broker may hold. */
const defaultPorts: Readonly<Record<string, string>> = { 'mqtt:': '1883', 'mqtts:': '8883', 'ws:': '80', 'wss:': '443' };
const plainAddress = (url: string): string => {
  const { protocol, hostname, port } = new URL(url);
  return `${protocol}//${hostname}:${port === '' ? (defaultPorts[protocol] ?? '') : port}`;
};

const sayReady = (): void => {
  if (ready || mqttUrl === null || httpUrl === null) return;
  ready = true;
  process.stdout.write(`ready ${httpUrl} ${plainAddress(mqttUrl)}\n`);
  if (isDemo) log.info(`open ${httpUrl} and sign in as ${demoUser.name} with the password ${demoUser.password}`);
};

let lastProgress = -1;
const sayProgress = (fraction: number, text: string): void => {
  const percent = Math.floor(fraction * 10) * 10;
  if (percent === lastProgress) return;
  lastProgress = percent;
  if (process.stderr.isTTY) process.stderr.write(`\r${text} ${percent} %${percent >= 100 ? '\n' : ''}`);
  else log.info({ percent }, text);
};

/** The API goes first: the last to close the readings should be the one that can put them in order. */
const stop = async (exitCode: number): Promise<void> => {
  stopping = true;
  await endChild(children.get('api'), apiStopWithinMs);
  await endChild(children.get('collector'), collectorStopWithinMs);
  process.exit(exitCode);
};

/** Asks a child to end, and ends it when it does not within the time. */
const endChild = (child: ChildProcess | undefined, withinMs: number): Promise<void> =>
  new Promise((resolve) => {
    if (child === undefined || child.exitCode !== null || child.signalCode !== null) return resolve();
    const kill = setTimeout(() => child.kill('SIGKILL'), withinMs);
    child.once('exit', () => {
      clearTimeout(kill);
      resolve();
    });
    child.kill('SIGTERM');
  });
for (const signal of ['SIGINT', 'SIGTERM'] as const) process.on(signal, () => void (stopping ? undefined : stop(0)));

/** Nothing is made or changed before it is clear that both can listen and that the files are ones this version may open. */
const begin = async (settings: Config): Promise<void> => {
  const { dataDirectory } = settings;
  const refused =
    (await whyNotHttp(settings)) ??
    (await whyNotMqtt(settings)) ??
    lookAtDirectory(dataDirectory)?.message ??
    lookAtDatabase(join(dataDirectory, accessFile), { newest: accessVersion, throughout: true })?.message;
  if (refused !== undefined) return giveUp(refused);
  start('collector', 0, true);
  start('api', 0, true);
};

if (config.ok) await begin(config.value);
else giveUp(config.error.message);
