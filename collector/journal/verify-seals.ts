import type { EntryOf } from '#domain/journal/entry.ts';
import type { BlockDigest } from '#domain/reading/sealing.ts';
import { fromRfc3339 } from '#domain/units/time.ts';
import { canonical, type Book } from './book.ts';
import { isSignedBy } from './site-key.ts';
import { walked } from './verify.ts';

/** What can be wrong with the seal of a day, beside the entry that holds it. */
export const sealFaults = {
  'wrong-signature': 'its signature does not fit: it was not made with the key it names, or it was changed',
  'other-key': 'it is signed with another key than the journal names for its time',
  'wrong-head': 'the entry it names as the head of the journal is not as it names it',
} as const;

export interface SealFault {
  readonly entry: number;
  readonly day: string;
  readonly what: keyof typeof sealFaults;
}

export interface Seals {
  readonly days: number;
  /** What the store must hold, block by block. */
  readonly blocks: readonly BlockDigest[];
  readonly fault: SealFault | null;
  /** Each seal as a third party may keep it. */
  readonly lines: readonly string[];
  /** The last entry that a seal covers. */
  readonly coversTo: number;
}

/** Walks the seals of a journal whose chain holds, up to the first that does not. */
export const verifySeals = (book: Pick<Book, 'read'>): Seals => walked(walkSeals(book));

/** The same in slices: says how many days hold so far. */
export function* walkSeals(book: Pick<Book, 'read'>): Generator<number, Seals> {
  let publicKey: string | null = null;
  const days = new Set<string>();
  const blocks: BlockDigest[] = [];
  const lines: string[] = [];
  let coversTo = 0;
  for (let after = 0; ; ) {
    const page = book.read(after, 500);
    for (const entry of page) {
      after = entry.sequence;
      if (entry.kind === 'key-made') ({ publicKey } = entry.body);
      if (entry.kind !== 'day-sealed') continue;
      const what = faultOf(book, entry, publicKey);
      if (what !== null) return { days: days.size, blocks, lines, coversTo, fault: { entry: entry.sequence, day: entry.body.day, what } };
      days.add(entry.body.from);
      lines.push(sealLine(entry));
      coversTo = entry.sequence;
      const span = { from: fromRfc3339(entry.body.from), to: fromRfc3339(entry.body.to) };
      for (const block of entry.body.blocks) blocks.push({ ...span, ...block });
    }
    if (page.length === 0) return { days: days.size, blocks, lines, coversTo, fault: null };
    yield days.size;
  }
}

/** `2026-05-03 entry 1234 HASH`: whoever keeps this line elsewhere can tell later that neither the day nor any entry up to that one was changed or cut off. */
export const sealLine = ({ body, sequence, hash }: EntryOf<'day-sealed'>): string => `${body.day} entry ${sequence} ${hash}`;

const faultOf = (book: Pick<Book, 'read'>, { body, sequence }: EntryOf<'day-sealed'>, publicKey: string | null): SealFault['what'] | null => {
  const { signature, ...seal } = body;
  if (seal.publicKey !== publicKey) return 'other-key';
  if (!isSignedBy(seal.publicKey, canonical(seal), signature)) return 'wrong-signature';
  const [head] = book.read(seal.head.sequence - 1, 1);
  return head !== undefined && head.sequence === seal.head.sequence && head.sequence < sequence && head.hash === seal.head.hash ? null : 'wrong-head';
};
