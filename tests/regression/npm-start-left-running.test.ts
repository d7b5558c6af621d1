/**
 * A signal to `npm start` ended npm and its shell, but the program went on without a parent: npm hands the signal to the shell it
 * started, and that shell does not pass it on. The scripts therefore begin with `exec`, which puts Node in the shell's place.
 */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { expect, it, onTestFinished } from 'vitest';
import { projectRoot } from '../architecture/project-tree.ts';

it.each(['SIGTERM', 'SIGINT'] as const)('%s to npm start ends the program with it, with exit code 0', async (signal) => {
  const directory = mkdtempSync(join(tmpdir(), 'npm-start-'));
  // In a process group of its own, so that whatever is left over can be found and ended.
  const npm = spawn('npm', ['start', '--', '--data', directory, '--port', '0', '--mqtt-port', '0'], { cwd: projectRoot, detached: true, stdio: ['ignore', 'pipe', 'ignore'] });
  onTestFinished(() => {
    try {
      process.kill(-(npm.pid ?? 0), 'SIGKILL');
    } catch {
      // Nothing is left, as it should be.
    }
    rmSync(directory, { recursive: true, force: true });
  });

  const ended = once(npm, 'exit');
  let address: string | undefined;
  for await (const line of createInterface({ input: npm.stdout })) {
    address = /^ready (\S+)/.exec(line)?.[1];
    if (address !== undefined) break;
  }
  const health = `${address ?? ''}/api/health`;
  expect((await fetch(health)).status).toBe(200);
  npm.kill(signal);
  expect(await ended).toEqual([0, null]);
  await expect(fetch(health)).rejects.toThrow('fetch failed');
}, 30_000);
