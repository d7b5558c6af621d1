import type { Draft } from '#domain/journal/entry.ts';
import type { EpochMs } from '#domain/units/time.ts';

/** An entry with the time it was written, which for the story lies in the past. */
export interface TimedDraft {
  readonly time: EpochMs;
  readonly draft: Draft;
}
