/** The command line clients of Debian's `mosquitto-clients`: what a grower types, and what stands for a foreign device. */
import { spawn } from 'node:child_process';
import { createInterface } from 'node:readline';
import type { Place } from './running.ts';
import { systemPart } from './system-parts.ts';
import { until } from './until.ts';

export interface Publishing {
  readonly port: number;
  readonly topic: string;
  readonly payload: string;
  readonly qos?: 0 | 1;
  readonly retain?: boolean;
  readonly options?: readonly string[];
}

/** Resolves when the client is done: at QoS 1 that is when the broker has acknowledged. */
export const publish = ({ port, topic, payload, qos = 1, retain = false, options = [] }: Publishing): Promise<void> =>
  new Promise((resolve, reject) => {
    // The payload comes in on stdin, so that it may be long or hold anything.
    const child = spawn(systemPart('mosquitto_pub'), ['-h', '127.0.0.1', '-p', String(port), '-t', topic, '-q', String(qos), ...(retain ? ['-r'] : []), ...options, payload === '' ? '-n' : '-s'], { stdio: ['pipe', 'ignore', 'pipe'] });
    let complaint = '';
    child.stderr.setEncoding('utf8').on('data', (text: string) => (complaint += text));
    child.once('error', reject);
    child.once('close', (code) => (code === 0 ? resolve() : reject(new Error(`mosquitto_pub ended with ${code}: ${complaint}`))));
    child.stdin.end(payload);
  });

export interface Heard {
  readonly topic: string;
  readonly payload: string;
  readonly retained: boolean;
}

export interface Listening {
  readonly heard: readonly Heard[];
  /** Ends the client; `rudely` without a word, so that the broker says its last will. */
  end(rudely?: boolean): Promise<void>;
}

/** Listens with mosquitto_sub, and answers once the broker has taken the subscription. */
export const subscribe = async (place: Pick<Place, 'keep'>, port: number, filter: string, options: readonly string[] = []): Promise<Listening> => {
  // `stdbuf` (coreutils): what it says of its subscription would otherwise wait in a buffer for the first message.
  const child = spawn('stdbuf', ['-oL', systemPart('mosquitto_sub'), '-h', '127.0.0.1', '-p', String(port), '-t', filter, '-d', '-F', '= %r %t %p', ...options], { stdio: ['ignore', 'pipe', 'ignore'] });
  const heard: Heard[] = [];
  let subscribed = false;
  createInterface({ input: child.stdout }).on('line', (line) => {
    if (line.startsWith('Subscribed (mid')) subscribed = true;
    const [, retained, topic, payload] = /^= ([01]) (\S+) (.*)$/.exec(line) ?? [];
    if (topic !== undefined) heard.push({ topic, payload: payload ?? '', retained: retained === '1' });
  });
  const ended = new Promise<void>((resolve) => child.once('close', () => resolve()));
  const end = async (rudely = false): Promise<void> => {
    child.kill(rudely ? 'SIGKILL' : 'SIGTERM');
    await ended;
  };
  place.keep(() => end());
  await until(`mosquitto_sub has subscribed to ${filter}`, () => subscribed);
  return { heard, end };
};
