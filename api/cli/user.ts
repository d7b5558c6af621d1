import { join } from 'node:path';
import { createInterface } from 'node:readline/promises';
import { openBook } from '#collector';
import { password as passwordSchema, roles, slug, type Role } from '#contract';
import { byApi, type Draft } from '#domain/journal/entry.ts';
import { accessFile, openAccessStore } from '../access/access-store.ts';
import { argumentsOf, type Command, type Terminal } from './command.ts';

export const user: Command = {
  usage: 'user add NAME [--role ROLE] [--lots LOT,LOT] | password NAME | remove NAME',
  summary: `who may sign in; roles: ${roles.join(', ')} (default helper); an inspector reads the records of the lots named and nothing else`,
  run: async (args, terminal) => {
    const given = argumentsOf(args, ['role', 'lots'], user.usage, terminal);
    if (given === null) return 1;
    const [act, name] = given.positionals;
    const role = (given.values.role ?? 'helper') as Role;
    if (!['add', 'password', 'remove'].includes(act ?? '') || !slug.safeParse(name).success || name === undefined || !roles.includes(role)) {
      terminal.error(`Usage: npm run cli -- ${user.usage}. NAME is lower-case letters, digits and dashes.`);
      return 1;
    }
    const lots = (given.values.lots ?? '').split(',').map((lot) => lot.trim()).filter((lot) => lot !== '');
    if (act === 'add' && (role === 'inspector') !== lots.length > 0) return refuse(terminal, 'An inspector needs --lots, the lots to read, such as --lots ST26-A7,ST26-B5; nobody else has them. Nothing was changed.');
    const opened = openAccessStore(join(given.directory, accessFile));
    if (!opened.ok) return refuse(terminal, opened.error.message);
    const access = opened.value;
    const write = (draft: Draft): void => {
      const book = openBook(join(given.directory, 'book.db'));
      if (!book.ok) throw new Error(book.error.message);
      book.value.append([draft], Date.now());
      book.value.close();
    };
    try {
      if (act === 'remove') {
        if (!access.removeUser(name)) return refuse(terminal, `There is no user ${name}.`);
        write({ who: byApi, kind: 'user-removed', body: { name } });
        terminal.out(`${name} is removed and signed out everywhere.`);
        return 0;
      }
      const secret = await askPassword(terminal);
      if (secret === null) return 1;
      if (act === 'add') {
        if (!(await access.addUser(name, role, secret))) return refuse(terminal, `There is a user ${name} already.`);
        access.inspections.setLots(name, lots);
        write({ who: byApi, kind: 'user-added', body: { name, role, ...(lots.length > 0 && { lots }) } });
        terminal.out(`${name} may sign in now, with the role ${role}${lots.length === 0 ? '' : `, and reads ${lots.join(', ')}`}.`);
        return 0;
      }
      if (!(await access.setPassword(name, secret))) return refuse(terminal, `There is no user ${name}.`);
      write({ who: byApi, kind: 'user-password-changed', body: { name } });
      terminal.out(`${name} has a new password and is signed out everywhere.`);
      return 0;
    } finally {
      access.close();
    }
  },
};

const refuse = (terminal: Terminal, message: string): number => {
  terminal.error(message);
  return 1;
};

/** From the environment or the standard input, never from the arguments: those are seen by every user of the machine. */
const askPassword = async (terminal: Terminal): Promise<string | null> => {
  let secret = process.env.BRINEWARD_PASSWORD;
  if (secret === undefined) {
    const lines = createInterface({ input: process.stdin, output: process.stderr, terminal: false });
    if (process.stdin.isTTY) process.stderr.write('New password: ');
    const first: IteratorResult<string, undefined> = await lines[Symbol.asyncIterator]().next();
    secret = first.value;
    lines.close();
  }
  const parsed = passwordSchema.safeParse(secret);
  if (parsed.success) return parsed.data;
  terminal.error('A password has 6 to 200 characters. Nothing was changed.');
  return null;
};
