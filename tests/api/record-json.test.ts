import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { canonical, type SiteKey } from '#collector';
import type { SealedRecord } from '#contract';
import { expectProblem, openApiHarness, type ApiHarness } from '../helpers/api-harness.ts';
import { secondCanonical } from '../helpers/jcs.ts';
import { makeSiteKey, storyOfLot } from '../helpers/lot-shed.ts';
import { systemPart } from '../helpers/system-parts.ts';

/** The signed record as anybody may check it: with another canonicaliser and with OpenSSL. */
let harness: ApiHarness;
let key: SiteKey;
let lot: string;
let folder: string;
let text: string;
let sealed: SealedRecord;

beforeAll(async () => {
  harness = await openApiHarness({ zone: 'Europe/Athens' });
  folder = mkdtempSync(join(tmpdir(), 'brineward-record-'));
  lot = await storyOfLot(harness);
  expectProblem(await (await harness.as('owner')).fetch(`/api/records/${lot}.json`), 'not-ready');
  expect(harness.faults.splice(0)).toHaveLength(1);
  key = makeSiteKey(harness);
  const answer = await fetch(`${harness.url}/api/records/${lot}.json`, { headers: { cookie: (await harness.as('owner')).cookie ?? '' } });
  expect(answer.headers.get('content-type')).toBe('application/json; charset=utf-8');
  text = await answer.text();
  sealed = JSON.parse(text) as SealedRecord;
});
afterAll(async () => {
  rmSync(folder, { recursive: true });
  await harness.close();
});

/** What OpenSSL says of a signature over a text; the DER form of the key by RFC 8410. */
const opensslSays = (signed: string, { publicKey, signature }: Pick<SealedRecord['seal'], 'publicKey' | 'signature'>): boolean => {
  const file = (name: string): string => join(folder, name);
  writeFileSync(file('key.der'), Buffer.concat([Buffer.from('302a300506032b6570032100', 'hex'), Buffer.from(publicKey, 'base64url')]));
  writeFileSync(file('text'), signed);
  writeFileSync(file('signature'), Buffer.from(signature, 'base64url'));
  const { status } = spawnSync(systemPart('openssl'), ['pkeyutl', '-verify', '-pubin', '-inkey', file('key.der'), '-keyform', 'DER', '-rawin', '-in', file('text'), '-sigfile', file('signature')]);
  return status === 0;
};

describe('the second canonicaliser', () => {
  it('writes the vectors of RFC 8785 and its test data', () => {
    const numbers = '{"numbers":[333333333.33333329,1E30,4.50,2e-3,0.000000000000000000000000001],"string":"\\u20ac$\\u000F\\u000aA\'\\u0042\\u0022\\u005c\\\\\\"\\/","literals":[null,true,false]}';
    expect(secondCanonical(JSON.parse(numbers))).toBe('{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}');
    expect(secondCanonical(JSON.parse('[56,{"d":true,"10":null,"1":[]}]'))).toBe('[56,{"1":[],"10":null,"d":true}]');
    expect(secondCanonical(JSON.parse('{"1":{"f":{"f":"hi","F":5},"\\n":56.0},"10":{},"":"empty","a":{},"111":[{"e":"yes","E":"no"}],"A":{}}'))).toBe(
      '{"":"empty","1":{"\\n":56,"f":{"F":5,"f":"hi"}},"10":{},"111":[{"E":"no","e":"yes"}],"A":{},"a":{}}',
    );
    // Section 3.2.3: by UTF-16 code units the pile of surrogates stands before U+FB33.
    expect(secondCanonical({ '\u{FB33}': 1, '\u{1F602}': 2, '€': 3, ö: 4, '\r': 5, '1': 6 })).toBe('{"\\r":5,"1":6,"ö":4,"€":3,"😂":2,"\u{FB33}":1}');
    expect(secondCanonical([-0, 1e21, 0.000001, 9.999999999999997e-7])).toBe('[0,1e+21,0.000001,9.999999999999997e-7]');
  });
});

describe('the signed record', () => {
  it('is verified by OpenSSL over what another canonicaliser writes, with the key of the site', () => {
    expect(sealed.seal).toMatchObject({ canonicalization: 'JCS', algorithm: 'Ed25519', publicKey: key.publicKey });
    expect(sealed.record.lot).toBe(lot);
    expect(opensslSays(secondCanonical(sealed.record), sealed.seal)).toBe(true);
  });

  it('is verified no more when any byte of it is another', () => {
    const signed = secondCanonical(sealed.record);
    for (const place of [0, 1, 0.1, 0.25, 0.5, 0.75, 0.9].map((share) => Math.floor(share * (share === 1 ? 1 : signed.length))).concat(signed.length - 1)) {
      const changed = `${signed.slice(0, place)}${signed[place] === 'x' ? 'y' : 'x'}${signed.slice(place + 1)}`;
      expect({ place, verified: opensslSays(changed, sealed.seal) }).toEqual({ place, verified: false });
    }
    expect(opensslSays(signed, { ...sealed.seal, publicKey: Buffer.alloc(32, 1).toString('base64url') })).toBe(false);
  });

  it('is written in canonical form, so that the bytes that were signed stand in the file', () => {
    expect(text).toBe(canonical(sealed));
    expect(text).toContain(secondCanonical(sealed.record));
  });

  it('is checked by the script on the page for inspectors, which names key and record as the papers do', async () => {
    const page = await (await fetch(`${harness.url}/api/records/how-to-check`)).text();
    const script = /```python\n([\s\S]*?)```/.exec(page)?.[1] ?? '';
    expect(script.trim().split('\n').length).toBeLessThanOrEqual(25);
    const run = (record: string): ReturnType<typeof spawnSync> => {
      writeFileSync(join(folder, 'check.py'), script);
      writeFileSync(join(folder, 'record.json'), record);
      return spawnSync(systemPart('python3'), ['check.py', 'record.json'], { cwd: folder, encoding: 'utf8' });
    };
    const good = run(text);
    expect({ status: good.status, error: good.stderr }).toEqual({ status: 0, error: '' });
    expect(good.stdout).toContain('Signature Verified Successfully');
    expect(good.stdout).toContain(key.fingerprint.replaceAll(' ', ''));
    const changed = run(text.replace('Saturday market', 'Sunday market'));
    expect(changed.status).toBe(1);
    expect(readFileSync(join(folder, 'record.txt'), 'utf8')).toContain('Sunday market');
  });

  it('is for owner and helper, and says which lot was meant', async () => {
    expect((await (await harness.as('helper')).fetch(`/api/records/${lot}.json`)).status).toBe(200);
    expectProblem(await (await harness.as('wall')).fetch(`/api/records/${lot}.json`), 'not-allowed');
    expectProblem(await harness.stranger().fetch(`/api/records/${lot}.json`), 'not-signed-in');
    expectProblem(await (await harness.as('owner')).fetch('/api/records/HO26-XX.json'), 'not-found');
  });
});

describe('what the record tells', () => {
  it('gives each limit its worst value, how much was observed, and what came of it', () => {
    const jarPh = sealed.record.limits.find(({ quantity }) => quantity === 'jar-ph');
    expect(jarPh).toMatchObject({ value: 4.3, worst: 4.08, n: 2, outcome: 'inside', source: 'CXS 66-1981' });
    const warm = sealed.record.limits.find(({ id }) => id === 'leach-temperature-high');
    // 26.5 + 0.4 °C was the warmest; one gap of 31 hours in ten days.
    expect(warm).toMatchObject({ value: 25, worst: 26.9, outcome: 'outside' });
    expect(sealed.record.state).toMatchObject({ word: 'released', by: 'Maria' });
    expect(sealed.record.jars).toMatchObject({ filled: 48, left: 17, out: [{ to: 'Saturday market', jars: 31 }] });
  });

  it('states what is missing and what does not count', () => {
    const { missing, byHand } = sealed.record;
    expect(missing.map(({ what }) => what)).toEqual(expect.arrayContaining(['no brine temperature from the probe', '1 measurement by hand not usable as evidence', 'titratable acidity not measured', 'class of the product not recorded']));
    expect(byHand.map(({ quantity, value, notUsable }) => [quantity, value, notUsable])).toEqual([
      ['salinity', 80, null], ['ph', 4.1, 'meter not calibrated that day'], ['ph', 3.9, null], ['ph', 4.05, null], ['ph', 4.08, null], ['ph', 4.06, null], ['ph', 4.08, null],
    ]);
  });

  it('keeps what was corrected, with who, when and why, and marks what was written late', () => {
    const [wrong, mended] = sealed.record.acts.filter(({ kind }) => kind === 'measured');
    expect(wrong).toMatchObject({ standing: false, correctedBy: { entry: mended?.sequence, who: 'owner', reason: 'per cent written for g/L' }, body: { value: 8 } });
    expect(mended).toMatchObject({ standing: true, corrects: wrong?.sequence, late: null, body: { value: 80 } });
    expect(wrong?.late).toBe('late');
  });

  it('holds the journal entries that concern the lot with their hashes as stored', async () => {
    const stored = await (await harness.as('owner')).call('journal', { query: { after: 0, limit: 500 } });
    const hashes = new Map(stored.entries.map(({ sequence, hash }) => [sequence, hash]));
    expect(sealed.record.journal.length).toBeGreaterThan(15);
    for (const { sequence, hash } of sealed.record.journal) expect(hash).toBe(hashes.get(sequence));
  });
});
