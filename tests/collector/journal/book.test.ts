import { createHash } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { DatabaseSync } from 'node:sqlite';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { byUser, genesisHash, type Draft } from '#domain/journal/entry.ts';
import { canonical, openBook, type Book } from '../../../collector/journal/book.ts';
import { createFollower } from '../../../collector/journal/follow.ts';
import { verifyJournal } from '../../../collector/journal/verify.ts';

const undo: (() => void)[] = [];
afterEach(() => {
  for (const step of undo.splice(0).reverse()) step();
});

const directory = (): string => {
  const made = mkdtempSync(join(tmpdir(), 'book-'));
  undo.push(() => rmSync(made, { recursive: true, force: true }));
  return made;
};
const open = (file: string): Book => {
  const book = openBook(file);
  if (!book.ok) throw new Error(book.error.message);
  undo.push(() => book.value.close());
  return book.value;
};
const drum = (id: string, name = `Barrel ${id}`): Draft => ({ who: byUser('owner'), kind: 'drum-added', body: { id, name, volumeL: 60, insulated: false } });
const time = Date.UTC(2026, 4, 3, 6, 0, 0);

describe('the canonical form', () => {
  // RFC 8785 (JSON Canonicalization Scheme), test data published by its author (VERIFIED).
  it.each([
    ['values', '{"numbers":[333333333.33333329,1E30,4.50,2e-3,0.000000000000000000000000001],"string":"\\u20ac$\\u000F\\u000aA\'\\u0042\\u0022\\u005c\\\\\\"\\/","literals":[null,true,false]}', '{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}'],
    ['arrays', '[56,{"d":true,"10":null,"1":[]}]', '[56,{"1":[],"10":null,"d":true}]'],
    ['structures', '{"1":{"f":{"f":"hi","F":5},"\\n":56.0},"10":{},"":"empty","a":{},"111":[{"e":"yes","E":"no"}],"A":{}}', '{"":"empty","1":{"\\n":56,"f":{"F":5,"f":"hi"}},"10":{},"111":[{"E":"no","e":"yes"}],"A":{},"a":{}}'],
  ])('of the published %s is the published one', (_name, input, output) => {
    expect(canonical(JSON.parse(input))).toBe(output);
  });

  it('sorts names by UTF-16 code units', () => {
    const weird = { '\u20ac': 1, '\r': 2, '\ufb33': 3, '1': 4, '\ud83d\ude02': 5, '\u0080': 6, '\u00f6': 7, '</script>': 8, '\n': 9 };
    expect(Object.keys(JSON.parse(canonical(weird)) as object).sort((one, other) => canonical(weird).indexOf(JSON.stringify(one)) - canonical(weird).indexOf(JSON.stringify(other)))).toEqual(['\n', '\r', '1', '</script>', '\u0080', '\u00f6', '\u20ac', '\ud83d\ude02', '\ufb33']);
  });
});

describe('the journal', () => {
  it('chains entries by hashes anyone can recompute', () => {
    const book = open(join(directory(), 'book.db'));
    book.append([drum('a'), drum('b')], time);
    book.append([drum('c')], time + 1);
    const entries = book.read(0, 10);
    expect(entries.map(({ sequence }) => sequence)).toEqual([1, 2, 3]);
    expect(entries[0]?.previousHash).toBe(genesisHash);
    for (const [index, { hash, ...rest }] of entries.entries()) {
      expect(createHash('sha256').update(canonical(rest)).digest('hex')).toBe(hash);
      if (index > 0) expect(rest.previousHash).toBe(entries[index - 1]?.hash);
    }
  });

  it('stays one chain when two processes write in turn', () => {
    const file = join(directory(), 'book.db');
    const one = open(file);
    const other = open(file);
    for (let round = 0; round < 50; round += 1) {
      one.append([drum(`a${round}`)], time + round);
      other.append([drum(`b${round}`), drum(`c${round}`)], time + round);
    }
    expect(verifyJournal(one)).toEqual({ checked: 150, fault: null });
  });

  it('is followed once and in order by whoever asks', () => {
    const file = join(directory(), 'book.db');
    const writer = open(file);
    const seen: number[] = [];
    const follower = createFollower(open(file), ({ sequence }) => seen.push(sequence));
    writer.append([drum('a')], time);
    expect(follower.poll()).toBe(1);
    expect(follower.poll()).toBe(0);
    writer.append(Array.from({ length: 2_500 }, (_empty, index) => drum(`d${index}`)), time);
    expect(follower.poll()).toBe(2_500);
    expect(seen).toEqual(Array.from({ length: 2_501 }, (_empty, index) => index + 1));
  });

  it('leaves nothing of an append that fails', () => {
    const book = open(join(directory(), 'book.db'));
    const cyclic: { self?: unknown } = {};
    cyclic.self = cyclic;
    expect(() => book.append([drum('a'), { who: 'user:owner', kind: 'user-removed', body: cyclic } as unknown as Draft], time)).toThrow(TypeError);
    expect(book.lastSequence()).toBe(0);
    expect(book.append([drum('b')], time)[0]?.sequence).toBe(1);
  });

  it('refuses a journal of a newer version, or a file that is none, and leaves it as it was', () => {
    const file = join(directory(), 'book.db');
    const newer = new DatabaseSync(file);
    newer.exec('PRAGMA user_version = 99');
    newer.close();
    const opened = openBook(file);
    expect(opened.ok ? null : opened.error.code).toBe('newer-database');
  });
});

describe('verifying', () => {
  const filled = (): { file: string; book: Book } => {
    const file = join(directory(), 'book.db');
    const book = open(file);
    book.append([drum('a', 'Fass «Ä» 😀'), drum('b'), drum('c')], time);
    return { file, book };
  };

  it('finds any byte of any entry that was changed, and names the entry', () => {
    const { file, book } = filled();
    const tamper = new DatabaseSync(file, { timeout: 5_000 });
    undo.push(() => tamper.close());
    const write = tamper.prepare('UPDATE entries SET text = ? WHERE sequence = ?');
    for (const { sequence, text } of book.texts(0, 10)) {
      const original = Buffer.from(text);
      for (let place = 0; place < original.length; place += 1) {
        const changed = Buffer.from(original);
        changed[place] = (changed[place] ?? 0) ^ 1;
        write.run(changed.toString(), sequence);
        expect(verifyJournal(book).fault?.sequence, `byte ${place} of entry ${sequence}`).toBe(sequence);
      }
      write.run(text, sequence);
    }
    expect(verifyJournal(book).fault).toBeNull();
  });

  it('finds an entry taken out, moved or forged with a hash of its own', () => {
    const { file, book } = filled();
    const tamper = new DatabaseSync(file, { timeout: 5_000 });
    undo.push(() => tamper.close());
    const second = JSON.parse(book.texts(1, 1)[0]?.text ?? '') as { hash?: string; who: string };
    second.who = 'user:somebody';
    delete second.hash;
    const forged = canonical({ ...second, hash: createHash('sha256').update(canonical(second)).digest('hex') });
    tamper.prepare('UPDATE entries SET text = ? WHERE sequence = 2').run(forged);
    expect(verifyJournal(book).fault).toEqual({ sequence: 3, what: 'broken-chain' });
    tamper.exec('DELETE FROM entries WHERE sequence = 2');
    expect(verifyJournal(book).fault).toEqual({ sequence: 2, what: 'wrong-number' });
    tamper.exec(`UPDATE entries SET text = 'null' WHERE sequence = 1`);
    expect(verifyJournal(book).fault).toEqual({ sequence: 1, what: 'not-json' });
  });
});
