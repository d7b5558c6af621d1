/**
 * A cable between a device and the program: a pair of pseudo-terminals that `socat` holds. `unplug` takes both ends away, as when a
 * plug is pulled; `plug` puts them back under the same names.
 */
import { spawn, type ChildProcess } from 'node:child_process';
import { existsSync } from 'node:fs';
import { open } from 'node:fs/promises';
import { join } from 'node:path';
import { systemPart } from './system-parts.ts';
import { until } from './until.ts';

export interface Cable {
  /** The end that the program opens, and the end of the device. */
  readonly path: string;
  readonly devicePath: string;
  /** What the device says. */
  say(bytes: string | Uint8Array): Promise<void>;
  plug(): Promise<void>;
  unplug(): Promise<void>;
}

export const layCable = async (directory: string, name = 'cable'): Promise<Cable> => {
  const [path, devicePath] = [join(directory, name), join(directory, `${name}-device`)];
  let socat: ChildProcess | null = null;
  const plug = async (): Promise<void> => {
    socat = spawn(systemPart('socat'), [`pty,raw,echo=0,link=${path}`, `pty,raw,echo=0,link=${devicePath}`], { stdio: 'ignore' });
    await until('the cable lies', () => existsSync(path) && existsSync(devicePath));
  };
  const unplug = async (): Promise<void> => {
    const held = socat;
    socat = null;
    if (held === null) return;
    const ended = new Promise((resolve) => held.once('close', resolve));
    held.kill();
    await ended;
  };
  await plug();
  return {
    path,
    devicePath,
    say: async (bytes) => {
      const device = await open(devicePath, 'w');
      try {
        await device.writeFile(bytes);
      } finally {
        await device.close();
      }
    },
    plug,
    unplug,
  };
};
