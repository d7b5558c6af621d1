import type { Entry } from '#domain/journal/entry.ts';
import type { Book } from './book.ts';

/** Reads on in the book from where it stopped and hands each new entry on, in order, once. */
export interface Follower {
  /** Takes in everything written since the last call; returns how many entries that were. */
  poll(): number;
}

const pageSize = 1_000;

export const createFollower = (book: Pick<Book, 'read'>, take: (entry: Entry) => void, after = 0): Follower => {
  let taken = after;
  return {
    poll: () => {
      let count = 0;
      for (;;) {
        const page = book.read(taken, pageSize);
        for (const entry of page) {
          taken = entry.sequence;
          take(entry);
        }
        count += page.length;
        if (page.length < pageSize) return count;
      }
    },
  };
};
