import { spawn, type ChildProcess } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { connect, createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { systemPart } from './system-parts.ts';

/** A real Mosquitto of our own on a free port, with the settings a durable shed needs (its defaults drop what a slow subscriber cannot take). */
export interface Mosquitto {
  readonly url: string;
  readonly port: number;
  /** Ends the broker, which keeps sessions and messages on its disk. */
  down(): Promise<void>;
  /** Starts it again with what it kept. */
  up(): Promise<void>;
  stop(): Promise<void>;
}

export const freePort = (): Promise<number> =>
  new Promise((resolve, reject) => {
    const server = createServer();
    server.once('error', reject);
    server.listen(0, '127.0.0.1', () => {
      const address = server.address();
      server.close(() => resolve(typeof address === 'object' && address !== null ? address.port : 0));
    });
  });

export const startMosquitto = async (port?: number): Promise<Mosquitto> => {
  const directory = mkdtempSync(join(tmpdir(), 'mosquitto-'));
  const chosen = port ?? (await freePort());
  const file = join(directory, 'mosquitto.conf');
  writeFileSync(file, `listener ${chosen} 127.0.0.1\nallow_anonymous true\nmax_queued_messages 0\nmax_inflight_messages 0\nmax_queued_bytes 0\npersistence true\npersistence_location ${directory}/\nlog_type error\nuser root\n`);
  const run = async (): Promise<ChildProcess> => {
    const child = spawn(systemPart('mosquitto'), ['-c', file], { stdio: 'ignore' });
    await listening(chosen, child, 'mosquitto');
    return child;
  };
  let child: ChildProcess | null = await run();
  const down = async (): Promise<void> => {
    const running = child;
    child = null;
    if (running === null || running.exitCode !== null) return;
    await new Promise<void>((resolve) => {
      running.once('exit', () => resolve());
      running.kill('SIGTERM');
    });
  };
  return {
    url: `mqtt://127.0.0.1:${chosen}`,
    port: chosen,
    down,
    up: async () => {
      child ??= await run();
    },
    stop: async () => {
      await down();
      rmSync(directory, { recursive: true, force: true });
    },
  };
};

export const listening = async (port: number, child: { readonly exitCode: number | null }, name: string): Promise<void> => {
  for (;;) {
    if (child.exitCode !== null) throw new Error(`${name} ended before it listened`);
    const open = await new Promise<boolean>((resolve) => {
      const socket = connect(port, '127.0.0.1');
      socket.once('connect', () => {
        socket.destroy();
        resolve(true);
      });
      socket.once('error', () => resolve(false));
    });
    if (open) return;
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
};
