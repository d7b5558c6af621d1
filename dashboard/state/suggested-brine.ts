import type { BatchDetail, Drum, Task } from '#contract';
import { lastOf } from './from-story.ts';

export interface SuggestedBrine {
  readonly brineL: number;
  readonly saltG: number;
}

/** What a change will most likely be: what the task asks for, else as last time, else as at the start. */
export const suggestedBrine = (drum: Pick<Drum, 'nextTask' | 'volumeL' | 'batch'>, batch: BatchDetail | null, task: Task | null = drum.nextTask): SuggestedBrine => {
  const needs = task?.needs;
  if (needs?.brineL !== undefined) return { brineL: needs.brineL, saltG: needs.saltG ?? 0 };
  const start = batch ?? drum.batch;
  if (start === null) return { brineL: Math.round(drum.volumeL * 0.42), saltG: 0 };
  const last = batch === null ? {} : (lastOf(batch.entries, 'brine-changed') ?? {});
  // After a split the last change was for more fruit than there is now.
  const brineL = (batch?.trace.brineShare ?? 1) < 1 ? Math.round((batch?.trace.brineNowL ?? 0) * 10) / 10 : typeof last['brineL'] === 'number' ? last['brineL'] : start.brineL;
  const saltGPerL = typeof last['saltGPerL'] === 'number' ? last['saltGPerL'] : start.saltGPerL;
  return { brineL, saltG: Math.round(brineL * saltGPerL) };
};
