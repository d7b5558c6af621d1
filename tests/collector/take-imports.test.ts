import { createHash } from 'node:crypto';
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import type { Draft } from '#domain/journal/entry.ts';
import type { Reading } from '#domain/reading/reading.ts';
import { createAdmission } from '../../collector/admission.ts';
import type { Log } from '../../collector/log.ts';
import { beginImport, importFile, keepImport } from '../../collector/sources/logger/files.ts';
import { createMemoryStore } from '../../collector/stores/memory.ts';
import { takeImports } from '../../collector/take-imports.ts';
import { createShedBook } from '../helpers/shed-book.ts';
import { until as untilSo } from '../helpers/until.ts';

// Invented rows.
const now = Date.UTC(2026, 9, 3, 12);
const text = 'time,T\n2026-10-01T08:00:00Z,18.5\n2026-10-01T08:10:00Z,18.4\n';
const mapping = { delimiter: ',', skipRows: 1, timeColumns: [0], timeFormat: 'iso', zone: 'UTC', valueColumn: 1, decimal: '.', unit: 'Cel', channel: 'temperature', probe: 'old-logger' } as const;
const quiet = { info: () => {}, warn: () => {}, error: () => {} } as unknown as Log;
let directory = '';
beforeEach(() => {
  directory = mkdtempSync(join(tmpdir(), 'brineward-take-'));
});
afterEach(() => rmSync(directory, { recursive: true }));

const settle = async (): Promise<void> => {
  for (let turn = 0; turn < 20; turn += 1) await new Promise<void>((resolve) => void setImmediate(resolve));
};

const open = (known: Iterable<Reading['series']> = []) => {
  const book = createShedBook();
  const store = createMemoryStore();
  const told: Reading[] = [];
  let fails = 0;
  const imports = takeImports({
    directory,
    clock: { now: () => now },
    log: quiet,
    shed: () => book.shed,
    admission: createAdmission(known),
    write: (drafts: readonly Draft[]) => book.append(drafts, now),
    store: { append: (readings) => (fails-- > 0 ? Promise.reject(new Error('the disk is full')) : store.append(readings)) },
    committed: (readings) => void told.push(...readings),
  });
  const order = (id: string): void => {
    writeFileSync(beginImport(directory, id), text);
    const digest = createHash('sha256').update(text).digest('hex');
    keepImport(directory, id, { file: 'a.csv', bytes: text.length, digest, by: 'user:owner', at: '2026-10-03T12:00:00.000Z' });
    book.write('import-ordered', { id, file: 'a.csv', bytes: text.length, digest, mapping }, now);
  };
  /** Ticks until it is so. A file is read when the disk answers, which no number of turns of the event loop promises. */
  const until = (isSo: () => boolean): Promise<boolean> =>
    untilSo('the import', () => {
      imports.tick();
      return isSo();
    });
  return { book, store, told, imports, order, until, fail: (times: number) => (fails = times) };
};

it('what the journal orders is stored, told to the rules, and written down when it is done; the same file again changes nothing', async () => {
  const { book, told, order, until } = open();
  order('20261003-00000001');
  order('20261003-00000002');
  await until(() => [...book.shed.imports.values()].every(({ finished }) => finished !== null));
  expect([...book.shed.imports.values()].map(({ finished }) => [finished?.stored, finished?.duplicates])).toEqual([[2, 0], [0, 2]]);
  expect(told.map(({ value }) => value)).toEqual([18.5, 18.4, 18.5, 18.4]);
});

it('what the store cannot take now is tried again, and the file is kept until then', async () => {
  const { book, order, until, fail, imports } = open();
  fail(2);
  order('20261003-00000001');
  imports.tick();
  await settle();
  expect([book.shed.imports.get('20261003-00000001')?.finished, existsSync(importFile(directory, '20261003-00000001'))]).toEqual([null, true]);
  await until(() => book.shed.imports.get('20261003-00000001')?.finished !== null);
  expect(book.shed.imports.get('20261003-00000001')?.finished).toMatchObject({ rows: 2, stored: 2 });
});

it('ends with the program, and is taken up by the next', async () => {
  const { book, order, imports } = open();
  await imports.close();
  order('20261003-00000001');
  imports.tick();
  await settle();
  expect(book.shed.imports.get('20261003-00000001')?.finished).toBeNull();
});

it('refuses the rows where as many probes are known as may be', async () => {
  const known = Array.from({ length: 5_000 }, (_, index): Reading['series'] => `p${index}/temperature`);
  const { book, order, until } = open(known);
  order('20261003-00000001');
  await until(() => book.shed.imports.get('20261003-00000001')?.finished !== null);
  expect(book.shed.imports.get('20261003-00000001')?.finished).toMatchObject({ stored: 0, refused: { 'too-many-series': 2 } });
});
