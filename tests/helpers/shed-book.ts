import { genesisHash, type Draft, type Entry, type EntryBodies, type EntryKind } from '#domain/journal/entry.ts';
import { emptyShed, project } from '#domain/journal/project.ts';
import type { Shed } from '#domain/journal/shed.ts';
import { toRfc3339, type EpochMs } from '#domain/units/time.ts';

/** A journal in memory, without hashes: the shed of a test is told by the same entries as a real one. */
export interface ShedBook {
  readonly shed: Shed;
  readonly entries: readonly Entry[];
  write<Kind extends EntryKind>(kind: Kind, body: EntryBodies[Kind], at: EpochMs): number;
  append(drafts: readonly Draft[], at: EpochMs): void;
}

export const createShedBook = (from: readonly Entry[] = []): ShedBook => {
  const entries: Entry[] = [...from];
  let shed = entries.reduce(project, emptyShed);
  const add = (draft: Draft, at: EpochMs): number => {
    const entry = { ...draft, sequence: entries.length + 1, time: toRfc3339(at), previousHash: genesisHash, hash: genesisHash } as Entry;
    entries.push(entry);
    shed = project(shed, entry);
    return entry.sequence;
  };
  return {
    get shed() {
      return shed;
    },
    entries,
    write: (kind, body, at) => add({ who: 'user:owner', kind, body } as Draft, at),
    append: (drafts, at) => {
      for (const draft of drafts) add(draft, at);
    },
  };
};

/** A drum with a probe on its temperature, and an ordinary batch in it. */
export const openDrum = (book: ShedBook, at: EpochMs, batch: Partial<EntryBodies['batch-opened']> = {}, drum = 'barrel-1', probe = 'probe-1'): string => {
  book.write('drum-added', { id: drum, name: `Barrel ${drum.slice(-1)}`, volumeL: 60, insulated: false }, at);
  book.write('placed', { probe, channel: 'temperature', drum, from: toRfc3339(at) }, at);
  const lot = batch.lot ?? `${drum}-a`;
  const body = { lot, drum, pickedAt: toRfc3339(at), startedAt: toRfc3339(at), cut: 'slit', style: 'kept-brine', maturity: 'green', fruitKg: 30, brineL: 27, saltGPerL: 100, ...batch } as const;
  book.write('batch-opened', body, at);
  return lot;
};
