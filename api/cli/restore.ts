import { chmodSync, existsSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, renameSync, rmSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { forgetPlace, openBook, verifyJournal } from '#collector';
import { extract } from 'tar';
import { sha256 } from './backup.ts';
import { backupParts, manifest, manifestFile, type Manifest } from './backup-parts.ts';
import type { Command, Terminal } from './command.ts';

/** A backup, checked and put into an empty directory. */
export const restore: Command = {
  usage: 'restore FILE --data DIR',
  summary: 'puts a backup into an empty directory, and nowhere else',
  run: async (args, terminal) => {
    const given = parsed(args);
    if (given === null) return refuse(terminal, `Usage: npm run cli -- ${restore.usage}.`);
    const { file, directory } = given;
    if (!existsSync(file)) return refuse(terminal, `There is no file ${file}.`);
    if (existsSync(directory) && readdirSync(directory).length > 0) return refuse(terminal, `${directory} is not empty and was left as it is. Give an empty or a new directory with --data.`);
    mkdirSync(directory, { recursive: true });
    const folder = mkdtempSync(join(directory, '.restore-'));
    try {
      terminal.progress('unpacking');
      const names = new Set([manifestFile, ...backupParts.map(({ name }) => name)]);
      // Only the files a backup is made of, by their plain names: a crafted one reaches nothing else.
      await extract({ file, cwd: folder, filter: (path, entry) => names.has(path) && 'type' in entry && entry.type === 'File' });
      const wrong = await faultOf(folder, terminal);
      if (wrong !== null) return refuse(terminal, `${wrong} Nothing was restored.`);
      for (const { name } of backupParts) {
        if (!existsSync(join(folder, name))) continue;
        chmodSync(join(folder, name), 0o600);
        renameSync(join(folder, name), join(directory, name));
      }
      if (existsSync(join(directory, 'outbox.db'))) forgetPlace(join(directory, 'outbox.db'));
      terminal.out(`Restored into ${directory}: each file as it was when the backup was made. Now run: npm run cli -- verify --data ${directory}`);
      return 0;
    } catch (cause) {
      return refuse(terminal, `${file} cannot be unpacked (${cause instanceof Error ? cause.message : String(cause)}). Nothing was restored.`);
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  },
};

const parsed = (args: readonly string[]): { readonly file: string; readonly directory: string } | null => {
  try {
    const { values, positionals } = parseArgs({ args: [...args], options: { data: { type: 'string' } }, allowPositionals: true });
    const [file] = positionals;
    const directory = values.data ?? process.env.BRINEWARD_DATA;
    return file === undefined || directory === undefined || positionals.length > 1 ? null : { file: resolve(file), directory: resolve(directory) };
  } catch {
    return null;
  }
};

/** What is wrong with an unpacked backup, in a sentence; null when every file is there and as it was. */
const faultOf = async (folder: string, terminal: Terminal): Promise<string | null> => {
  const file = join(folder, manifestFile);
  if (!existsSync(file)) return 'This file is no backup of Brineward: its list of files is missing.';
  let listed: Manifest;
  try {
    listed = manifest.parse(JSON.parse(readFileSync(file, 'utf8')));
  } catch {
    return 'This backup is damaged, or of a newer Brineward: its list of files cannot be read.';
  }
  if (!('book.db' in listed.files)) return 'This backup has no journal.';
  for (const [name, digest] of Object.entries(listed.files)) {
    if (!existsSync(join(folder, name))) return `The backup lacks its file ${name}.`;
    terminal.progress(`checking ${name}`);
    if ((await sha256(join(folder, name))) !== digest) return `The file ${name} in the backup was changed or damaged.`;
  }
  const book = openBook(join(folder, 'book.db'));
  if (!book.ok) return book.error.message;
  const { fault } = verifyJournal(book.value);
  book.value.close();
  return fault === null ? null : `The journal in the backup is not as it was written (entry ${fault.sequence}).`;
};

const refuse = (terminal: Terminal, message: string): number => {
  terminal.error(message);
  return 1;
};
