/** `npm run cli -- VERB …` as a person calls it: the real program in a process of its own. */
import { spawn } from 'node:child_process';
import { execPath } from 'node:process';
import { fileURLToPath } from 'node:url';
import { expect } from 'vitest';

export interface CliAnswer {
  readonly code: number | null;
  readonly out: string;
  readonly error: string;
}

const program = fileURLToPath(new URL('../../api/cli.ts', import.meta.url));

export const cli = (...args: readonly string[]): Promise<CliAnswer> =>
  new Promise((resolve, reject) => {
    const child = spawn(execPath, [program, ...args], { stdio: ['ignore', 'pipe', 'pipe'] });
    let out = '';
    let error = '';
    child.stdout.setEncoding('utf8').on('data', (text: string) => (out += text));
    child.stderr.setEncoding('utf8').on('data', (text: string) => (error += text));
    child.once('error', reject);
    child.once('close', (code) => resolve({ code, out, error }));
  });

/** Its exit code, and texts it says on either output. */
export const expectSaid = ({ code, out, error }: CliAnswer, expected: number, ...texts: readonly string[]): void => {
  for (const text of texts) expect(`${out}${error}`).toContain(text);
  expect(code).toBe(expected);
};
