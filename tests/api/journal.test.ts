import { createHash } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { JournalEntry } from '#contract';
import { toRfc3339 } from '#domain/units/time.ts';
import { harnessStart, openApiHarness, openShed, warmAlert, type ApiClient, type ApiHarness } from '../helpers/api-harness.ts';

/**
 * The JSON Canonicalization Scheme (RFC 8785), written here from the text alone: members sorted by their UTF-16 code units, no
 * white space, strings and numbers as ECMAScript writes them.
 */
const canonical = (value: unknown): string => {
  if (Array.isArray(value)) return `[${value.map(canonical).join(',')}]`;
  if (typeof value !== 'object' || value === null) return JSON.stringify(value);
  const members = Object.entries(value).toSorted(([one], [other]) => (one < other ? -1 : 1));
  return `{${members.map(([key, member]) => `${JSON.stringify(key)}:${canonical(member)}`).join(',')}}`;
};
const sha256 = (text: string): string => createHash('sha256').update(text, 'utf8').digest('hex');
const hashOf = ({ hash: _hash, ...rest }: JournalEntry): string => sha256(canonical(rest));

let harness: ApiHarness;
let owner: ApiClient;
let entries: readonly JournalEntry[];
beforeAll(async () => {
  harness = await openApiHarness();
  owner = await harness.as('owner');
  const lot = await openShed(harness, { variety: 'Πικουάλ 🫒', brineL: 1e-7, fruitKg: 0.1 + 0.2, acid: { acid: 'citric', ml: 1e5, strengthPercent: 0.5 } });
  const at = toRfc3339(harnessStart);
  await owner.call('addEntry', { params: { lot }, body: { kind: 'observed', at, sign: 'a "film"\\ \u007f', note: '\u20ac$\u000f\nA\'B"\\/ \u0000' } });
  await owner.call('addEntry', { params: { lot }, body: { kind: 'measured', at, quantity: 'temperature', value: -0 } });
  harness.collectorWrites({ kind: 'alert-raised', body: warmAlert(harness, lot) });
  ({ entries } = await owner.call('journal', { query: { limit: 1_000 } }));
});
afterAll(() => harness.close());

describe('the canonicaliser of this test', () => {
  it('gives the example of RFC 8785, section 3.2.2 and 3.2.3', () => {
    const sample = { numbers: [333333333.33333329, 1e30, 4.5, 2e-3, 0.000000000000000000000000001], string: '\u20ac$\u000F\u000aA\'\u0042\u0022\u005c\\\"/', literals: [null, true, false] }; // oxlint-disable-line no-loss-of-precision
    expect(canonical(sample)).toBe('{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}');
    const names = { '\u20ac': 'Euro Sign', '\r': 'Carriage Return', '\ufb33': 'Hebrew Letter Dalet With Dagesh', '1': 'One', '\ud83d\ude00': 'Emoji: Grinning Face', '\u0080': 'Control', '\u00f6': 'Latin Small Letter O With Diaeresis' };
    expect([...canonical(names).matchAll(/:"([^"]+)"/g)].map(([, name]) => name)).toEqual(['Carriage Return', 'One', 'Control', 'Latin Small Letter O With Diaeresis', 'Euro Sign', 'Emoji: Grinning Face', 'Hebrew Letter Dalet With Dagesh']);
  });
});

describe('the journal', () => {
  it('holds every act in order, each with who and when', () => {
    expect(entries.map(({ sequence }) => sequence)).toEqual(entries.map((_entry, index) => index + 1));
    expect(entries.map(({ kind }) => kind)).toEqual(['site-opened', 'drum-added', 'placed', 'batch-opened', 'observed', 'measured', 'alert-raised']);
    expect(entries.every(({ time }) => time === toRfc3339(harnessStart))).toBe(true);
    expect(entries.map(({ who }) => who)).toEqual(['collector', 'user:owner', 'user:owner', 'user:owner', 'user:owner', 'user:owner', 'collector']);
  });

  it('is a chain of hashes that anyone can compute again', () => {
    expect(entries.map(hashOf)).toEqual(entries.map(({ hash }) => hash));
    expect(entries.map(({ previousHash }) => previousHash)).toEqual(['0'.repeat(64), ...entries.slice(0, -1).map(({ hash }) => hash)]);
  });

  it('shows any change, in any field', () => {
    const [entry] = entries.slice(3);
    if (entry === undefined) throw new Error('no entry');
    for (const field of ['sequence', 'time', 'who', 'kind', 'body', 'previousHash'] as const) expect(hashOf({ ...entry, [field]: typeof entry[field] === 'number' ? 9 : `${JSON.stringify(entry[field])} ` })).not.toBe(entry.hash);
    expect(hashOf({ ...entry, body: { ...entry.body, fruitKg: 0.3 } })).not.toBe(entry.hash);
  });

  it('is read in pages, each entry once', async () => {
    const pages: JournalEntry[] = [];
    for (let after = 0; ; after = pages.length) {
      const { entries: page } = await owner.call('journal', { query: { after, limit: 3 } });
      expect(page.length).toBeLessThanOrEqual(3);
      if (page.length === 0) break;
      pages.push(...page);
    }
    expect(pages).toEqual(entries);
    expect((await owner.call('journal', { query: { after: Number.MAX_SAFE_INTEGER } })).entries).toEqual([]);
  });

  it('is the same after a restart', async () => {
    await harness.restart();
    expect((await owner.call('journal')).entries).toEqual(entries);
  });
});
