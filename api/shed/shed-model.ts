import type { Book, Clock } from '#collector';
import { createFollower } from '#collector';
import type { Draft, Entry } from '#domain/journal/entry.ts';
import { emptyShed, project } from '#domain/journal/project.ts';
import type { Shed } from '#domain/journal/shed.ts';
import type { ReadingStore } from '#domain/reading/store.ts';

/** What the API knows of the shed: the journal's projection, the readings, the clock. Everything an answer is made from. */
export interface ShedModel {
  readonly clock: Clock;
  readonly zone: string;
  readonly store: ReadingStore;
  shed(): Shed;
  /** Takes in what is new in the journal; true when something was. */
  follow(): boolean;
  /** Writes acts in the journal and takes them in at once, so that the answer to a request already knows of them. */
  write(drafts: readonly Draft[]): readonly Entry[];
  readonly book: Book;
}

export interface ShedModelOptions {
  readonly book: Book;
  readonly store: ReadingStore;
  readonly clock: Clock;
  readonly zone: string;
  /** Called with each entry newly taken in, by whichever process it was written. */
  taken(entry: Entry, before: Shed, after: Shed): void;
  written(sequence: number): void;
}

export const createShedModel = ({ book, store, clock, zone, taken, written }: ShedModelOptions): ShedModel => {
  let shed: Shed = emptyShed;
  let caughtUp = false;
  const follower = createFollower(book, (entry) => {
    const before = shed;
    shed = project(shed, entry);
    if (caughtUp) taken(entry, before, shed);
  });
  follower.poll();
  caughtUp = true;
  return {
    clock,
    zone,
    store,
    book,
    shed: () => shed,
    follow: () => follower.poll() > 0,
    write: (drafts) => {
      const entries = book.append(drafts, clock.now());
      follower.poll();
      written(shed.sequence);
      return entries;
    },
  };
};
