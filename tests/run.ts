/**
 * `npm test`: makes sure the machine has what the tests run against, builds the dashboard, then runs the whole suite once.
 * Arguments are handed on, so `npm test -- tests/collector` runs a part.
 */
import { spawnSync } from 'node:child_process';
import { argv, stderr } from 'node:process';
import { installCommand, installParts, missingParts } from './helpers/system-parts.ts';

const missing = missingParts();
if (missing.length > 0 && !installParts(missing)) {
  stderr.write(`The tests need ${missing.join(', ')}. Run this once:\n  ${installCommand(missing)}\n`);
  process.exit(1);
}

const step = (command: string, ...args: string[]): void => {
  const { status } = spawnSync(command, args, { stdio: 'inherit' });
  if (status !== 0) process.exit(status ?? 1);
};

step('vite', 'build', '--config', 'dashboard/vite.config.ts');
step('vitest', 'run', '--config', 'tests/vitest.config.ts', ...argv.slice(2));
