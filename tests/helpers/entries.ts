import type { Entry, EntryKind, EntryOf } from '#domain/journal/entry.ts';

export const isKindOf =
  <Kind extends EntryKind>(kind: Kind) =>
  (entry: Entry): entry is EntryOf<Kind> =>
    entry.kind === kind;
