import type { BatchDetail, Drum } from '#contract';

/** What a change will most likely be: what the task asks for, else as last time, else as at the start. */
export const suggestedBrine = (drum: Pick<Drum, 'nextTask' | 'volumeL'>, batch: BatchDetail | null): { readonly brineL: number; readonly saltG: number } => {
  const needs = drum.nextTask?.needs;
  if (needs?.brineL !== undefined) return { brineL: needs.brineL, saltG: needs.saltG ?? 0 };
  if (batch === null) return { brineL: Math.round(drum.volumeL * 0.42), saltG: 0 };
  const last = batch.entries.filter(({ kind, standing }) => kind === 'brine-changed' && standing).toSorted((a, b) => Date.parse(b.at) - Date.parse(a.at))[0]?.body ?? {};
  const brineL = typeof last['brineL'] === 'number' ? last['brineL'] : batch.brineL;
  const saltGPerL = typeof last['saltGPerL'] === 'number' ? last['saltGPerL'] : batch.saltGPerL;
  return { brineL, saltG: Math.round(brineL * saltGPerL) };
};
