import type { Entry } from './entry.ts';

/**
 * The marks of all entries that were sent with one, newest first: what is sent again is known by its mark, for good and after a restart.
 * A linked list: adding to it costs the same however long it is, and it is looked through only when somebody writes.
 */
export interface WrittenKeys {
  readonly key: string;
  readonly sequence: number;
  readonly before: WrittenKeys | null;
}

export const withKeyOf = (keys: WrittenKeys | null, { body, sequence }: Entry): WrittenKeys | null =>
  'key' in body && body.key !== undefined ? { key: body.key, sequence, before: keys } : keys;

/** The entry first written under a key; null when there is none. */
export const sequenceOfKey = (keys: WrittenKeys | null, key: string): number | null => {
  let first: number | null = null;
  for (let each = keys; each !== null; each = each.before) if (each.key === key) first = each.sequence;
  return first;
};
