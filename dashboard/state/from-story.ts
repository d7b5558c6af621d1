import type { BatchDetail, BatchSummary, StoryEntry } from '#contract';

/** What the story says of last time, for forms that begin where the last one ended. */
export const lastOf = (entries: readonly StoryEntry[], kind: string): StoryEntry['body'] | null =>
  entries.filter((entry) => entry.kind === kind && entry.standing).toSorted((one, other) => Date.parse(other.at) - Date.parse(one.at))[0]?.body ?? null;

const numberIn = (body: StoryEntry['body'] | null, name: string): number | null => {
  const value = body?.[name];
  return typeof value === 'number' ? value : null;
};

/** The strength of the brine this batch is given, as last poured: what `the same brine` means. */
export const lastStrength = (batch: BatchDetail | null, summary: BatchSummary | null): number | null =>
  numberIn(batch === null ? null : lastOf(batch.entries, 'brine-changed'), 'saltGPerL') ?? batch?.saltGPerL ?? summary?.saltGPerL ?? null;

export const lastTopUpL = (batch: BatchDetail | null): number => numberIn(batch === null ? null : lastOf(batch.entries, 'brine-topped-up'), 'brineL') ?? 1;

export const lastSaltG = (batch: BatchDetail | null): number => numberIn(batch === null ? null : lastOf(batch.entries, 'salt-added'), 'saltG') ?? 500;

export interface LastAcid {
  readonly acid: string;
  readonly ml: number;
  readonly strengthPercent: number;
}

/** Wine vinegar as it is mostly sold, where nothing was added before. */
const firstAcid: LastAcid = { acid: 'acetic', ml: 250, strengthPercent: 5 };

export const lastAcid = (batch: BatchDetail | null): LastAcid => {
  const body = batch === null ? null : lastOf(batch.entries, 'acid-added');
  const [ml, strengthPercent] = [numberIn(body, 'ml'), numberIn(body, 'strengthPercent')];
  return ml === null || strengthPercent === null || typeof body?.['acid'] !== 'string' ? firstAcid : { acid: body['acid'], ml, strengthPercent };
};
