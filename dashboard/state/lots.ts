import type { BatchSummary } from '#contract';

/** Where a lot is, by what a person would look for first: what is held stands before all else, wherever it is. */
export const lotGroups = ['On hold', 'In drums', 'Resting', 'Rested', 'Sold out'] as const;
export type LotGroup = (typeof lotGroups)[number];

export const groupOf = (lot: BatchSummary): LotGroup => {
  if (lot.held) return 'On hold';
  if (lot.jarredAt === null) return 'In drums';
  if ((lot.jarsLeft ?? 0) <= 0) return 'Sold out';
  return lot.stage === 'ready' ? 'Rested' : 'Resting';
};

export const groupLots = (lots: readonly BatchSummary[]): readonly { readonly group: LotGroup; readonly lots: readonly BatchSummary[] }[] =>
  lotGroups.map((group) => ({ group, lots: lots.filter((lot) => groupOf(lot) === group) })).filter((each) => each.lots.length > 0);
