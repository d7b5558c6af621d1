/**
 * `npm run cli -- VERB [--data DIR]`: what is done from a terminal, also beside a running Brineward.
 * Long work shows its progress on a terminal and plain lines elsewhere.
 */
import { backup } from './cli/backup.ts';
import { exportReadings } from './cli/export.ts';
import type { Command, Terminal } from './cli/command.ts';
import { importReadings } from './cli/import.ts';
import { restore } from './cli/restore.ts';
import { seal } from './cli/seal.ts';
import { user } from './cli/user.ts';
import { verify } from './cli/verify.ts';

const commands: Readonly<Record<string, Command>> = { verify, backup, restore, export: exportReadings, import: importReadings, seal, user };

const terminal: Terminal = {
  out: (text) => void process.stdout.write(`${text}\n`),
  raw: (text) => process.stdout.write(text),
  error: (text) => void process.stderr.write(`${text}\n`),
  progress: (text) => void process.stderr.write(process.stderr.isTTY ? `\r${text}\x1b[K` : `${text}\n`),
  isTTY: process.stderr.isTTY,
};

const [verb = '', ...rest] = process.argv.slice(2);
const command = commands[verb];
if (command === undefined) {
  terminal.error(`Usage: npm run cli -- VERB [--data DIR]\n${Object.values(commands).map(({ usage, summary }) => `  ${usage.padEnd(62)} ${summary}`).join('\n')}`);
  process.exitCode = 1;
} else {
  process.exitCode = await command.run(rest, terminal);
}
