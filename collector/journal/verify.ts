import { genesisHash, type Entry } from '#domain/journal/entry.ts';
import { canonical, hashOf, type Book } from './book.ts';

export type JournalFault = { readonly sequence: number; readonly what: 'not-json' | 'not-canonical' | 'wrong-number' | 'wrong-hash' | 'broken-chain' };

export interface JournalChecked {
  readonly checked: number;
  readonly fault: JournalFault | null;
}

/** Runs a walk to its end in one go; `progress` hears how far it is. */
export const walked = <Found>(walk: Generator<number, Found>, progress: (checked: number) => void = () => {}): Found => {
  for (;;) {
    const step = walk.next();
    if (step.done === true) return step.value;
    progress(step.value);
  }
};

/**
 * Walks the whole journal and names the first entry that is not as it was written: every byte is covered, because the stored
 * text must be the canonical form of an entry whose hash and chain hold. What it cannot see alone: a tail cut off whole.
 */
export const verifyJournal = (book: Pick<Book, 'texts'>, progress?: (checked: number) => void): JournalChecked => walked(walkJournal(book), progress);

/** The same in slices, for whoever has other things to do between: says how many entries hold so far. */
export function* walkJournal(book: Pick<Book, 'texts'>): Generator<number, JournalChecked> {
  let expected = 1;
  let previousHash = genesisHash;
  for (;;) {
    const page = book.texts(expected - 1, 500);
    for (const { sequence, text } of page) {
      const what = faultOf(sequence, text, expected, previousHash);
      if (typeof what === 'string') return { checked: expected - 1, fault: { sequence: expected, what } };
      previousHash = what.hash;
      expected += 1;
    }
    yield expected - 1;
    if (page.length === 0) return { checked: expected - 1, fault: null };
  }
}

const faultOf = (sequence: number, text: string, expected: number, previousHash: string): JournalFault['what'] | Entry => {
  if (sequence !== expected) return 'wrong-number';
  let entry: Entry;
  try {
    const parsed: unknown = JSON.parse(text);
    if (typeof parsed !== 'object' || parsed === null) return 'not-json';
    entry = parsed as Entry;
    if (canonical(entry) !== text) return 'not-canonical';
  } catch {
    return 'not-json';
  }
  if (entry.sequence !== expected) return 'wrong-number';
  if (entry.previousHash !== previousHash) return 'broken-chain';
  const { hash, ...unsealed } = entry;
  return hashOf(unsealed) === hash ? entry : 'wrong-hash';
};
