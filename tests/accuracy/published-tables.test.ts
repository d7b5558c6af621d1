import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { published } from '../helpers/published.ts';

const tests = new URL('../', import.meta.url);
const tables = readdirSync(new URL('fixtures/published/', tests)).filter((name) => name.endsWith('.json')).map((name) => name.replace('.json', ''));
const sources = readdirSync(new URL('accuracy/', tests))
  .filter((name) => name.endsWith('.test.ts') && name !== 'published-tables.test.ts')
  .map((name) => readFileSync(new URL(`accuracy/${name}`, tests), 'utf8'))
  .join('\n');

test('there are vendored tables', () => expect(tables.length).toBeGreaterThan(10));

test.each(tables)('%s is compared in an accuracy test', (name) => expect(sources).toContain(`'${name}'`));

test.each(tables)('%s says where it comes from and has a value in every cell', (name) => {
  const { source, confidence, quantity, columns, rows } = published(name);
  for (const text of [source, confidence, quantity]) expect(text).toMatch(/\w/);
  expect(rows.length).toBeGreaterThan(0);
  for (const row of rows) expect(row.length).toBe(columns.length);
});
