import type { Compare, CompareGroup } from '#contract';
import { daysWords } from './group-words.ts';

/** A lot that may be laid beside another, with what tells it apart from its like. */
export interface LotChoice {
  readonly lot: string;
  readonly words: string;
}

export const lotChoices = ({ groups }: Compare): readonly LotChoice[] =>
  groups.flatMap(({ cut, cures, leftOut }) => [
    ...cures.map(({ lot, days }) => ({ lot, words: `${lot} · ${cut} · ${daysWords(days)}` })),
    ...leftOut.map(({ lot, reason, days }) => ({ lot, words: `${lot} · ${cut} · ${days !== null ? daysWords(days) : reason === 'not-finished' || reason === 'bitter-again' ? 'still curing' : 'end not known'}` })),
  ]);

/** The slowest and the fastest of a group: the pair whose difference most wants a reason. Null with fewer than two. */
export const widestPair = ({ cures }: Pick<CompareGroup, 'cures'>): { readonly lot: string; readonly other: string } | null => {
  const sorted = cures.toSorted((one, other) => other.likelyDays - one.likelyDays);
  const [slowest, fastest] = [sorted[0], sorted.at(-1)];
  return slowest === undefined || fastest === undefined || slowest === fastest ? null : { lot: slowest.lot, other: fastest.lot };
};

/** What to suggest: the widest pair of the fullest group, else the first two lots there are. */
export const suggestedPair = (compare: Compare): { readonly lot: string; readonly other: string } | null => {
  for (const group of compare.groups) {
    const pair = widestPair(group);
    if (pair !== null) return pair;
  }
  const [one, other] = lotChoices(compare);
  return one === undefined || other === undefined ? null : { lot: one.lot, other: other.lot };
};
