import type { ReadingStore } from './store.ts';

/** How readings fare on their way to a store that is elsewhere. */
export interface OutboxStatus {
  /** Acknowledged, on this disk, and not there yet. */
  readonly waiting: number;
  /** Not taken by the store elsewhere, and kept here. */
  readonly refused: number;
  /** With this many waiting, new readings are not taken and so not acknowledged. */
  readonly mostWaiting: number;
  /** Why the store elsewhere takes nothing now; null when it does. */
  readonly trouble: string | null;
  /** Late readings counted as stored while it was away, that it turned out to have a value for: the first value stayed. */
  readonly settledLate: { readonly duplicates: number; readonly conflicts: number };
}

/** A store that keeps readings elsewhere and takes them in whether that place is there or not. */
export interface OutboxStore extends ReadingStore {
  outbox(): OutboxStatus;
  /** Resolves when nothing waits any more, or with false when the place elsewhere does not answer. */
  settled(): Promise<boolean>;
}
