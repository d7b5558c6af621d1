import { createHash } from 'node:crypto';
import { chmodSync, copyFileSync, createReadStream, existsSync, mkdtempSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { backup as copyDatabase, DatabaseSync } from 'node:sqlite';
import { create } from 'tar';
import { openBook } from '#collector';
import { byApi } from '#domain/journal/entry.ts';
import { argumentsOf, type Command, type Terminal } from './command.ts';
import { backupParts, manifestFile, type Manifest } from './backup-parts.ts';

const pagesPerStep = 1_000;

/** One file with everything of a data directory, taken while Brineward runs: a gzipped tar, which any computer opens. */
export const backup: Command = {
  usage: 'backup FILE',
  summary: 'writes everything into one file, also beside a running Brineward',
  run: async (args, terminal) => {
    const given = argumentsOf(args, [], backup.usage, terminal);
    if (given === null) return 1;
    const [target] = given.positionals;
    if (target === undefined) {
      terminal.error(`Usage: npm run cli -- ${backup.usage}, such as backup brineward-2026-11-25.tar.gz.`);
      return 1;
    }
    const file = resolve(target);
    if (existsSync(file)) {
      terminal.error(`${file} is there already and was left as it is. Give another name.`);
      return 1;
    }
    if (!existsSync(dirname(file))) {
      terminal.error(`There is no folder ${dirname(file)} to write the backup in.`);
      return 1;
    }
    // Beside the target: a backup goes to another disk, and there must be room for it there anyway.
    const folder = mkdtempSync(join(dirname(file), '.backup-'));
    try {
      const files: Record<string, string> = {};
      for (const { name, database } of backupParts) {
        const from = join(given.directory, name);
        if (!existsSync(from)) continue;
        const to = join(folder, name);
        if (database) await copyWhole(from, to, (share) => terminal.isTTY && terminal.progress(`${name} ${Math.round(share * 100)} %`));
        else copyFileSync(from, to);
        if (!terminal.isTTY) terminal.progress(`${name} copied`);
        files[name] = await sha256(to);
      }
      const manifest: Manifest = { form: 1, madeAt: new Date().toISOString(), files };
      writeFileSync(join(folder, manifestFile), JSON.stringify(manifest, null, 2));
      const draft = join(folder, basename(file));
      await create({ gzip: true, file: draft, cwd: folder, portable: true }, [manifestFile, ...Object.keys(files)]);
      chmodSync(draft, 0o600);
      copyFileSync(draft, file);
      chmodSync(file, 0o600);
      if (terminal.isTTY) terminal.progress('');
      terminal.out(`${file}: ${Object.keys(files).length} files, ${(statSync(file).size / 1e6).toFixed(1)} MB.`);
      if ('outbox.db' in files) terminal.out('Of the readings in InfluxDB it holds only the last days and what waits to be sent: copy InfluxDB too, or export them.');
      terminal.out('It holds the key of the site and the passwords, scrambled: keep it where only you can read it, and not only in the shed.');
      if ('book.db' in files) writeDown(given.directory, { bytes: statSync(file).size, files: Object.keys(files).length }, terminal);
      return 0;
    } catch (cause) {
      rmSync(file, { force: true });
      terminal.error(`The backup could not be written (${cause instanceof Error ? cause.message : String(cause)}). Nothing was changed, and no half backup was left.`);
      return 1;
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  },
};

/** After the copy, so not in it: the journal that goes on tells of the backup, and one restored from it does not. */
const writeDown = (directory: string, body: { readonly bytes: number; readonly files: number }, terminal: Terminal): void => {
  try {
    const book = openBook(join(directory, 'book.db'));
    if (!book.ok) throw new Error(book.error.message);
    book.value.append([{ who: byApi, kind: 'backup-made', body }], Date.now());
    book.value.close();
  } catch (cause) {
    terminal.error(`The backup is good, but the journal could not be told of it (${cause instanceof Error ? cause.message : String(cause)}).`);
  }
};

const copyWhole = async (from: string, to: string, progress: (share: number) => void): Promise<void> => {
  const source = new DatabaseSync(from, { readOnly: true, timeout: 5_000 });
  try {
    await copyDatabase(source, to, { rate: pagesPerStep, progress: ({ totalPages, remainingPages }) => progress(1 - remainingPages / Math.max(totalPages, 1)) });
  } finally {
    source.close();
  }
};

export const sha256 = async (file: string): Promise<string> => {
  const hash = createHash('sha256');
  for await (const chunk of createReadStream(file)) hash.update(chunk as Buffer);
  return hash.digest('hex');
};
