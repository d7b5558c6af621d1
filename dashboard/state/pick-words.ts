import { maturityClasses, type Pick } from '#contract';
import { dayMonth } from '../format/time.ts';

/** What a pick is like and where it went, in words. */
export const kg = (amount: number): string => `${String(Math.round(amount * 10) / 10)} kg`;

export const placeWords = ({ block, trees, variety }: Pick): string =>
  [variety, block, trees.length === 0 ? null : `${trees.length === 1 ? 'tree' : 'trees'} ${trees.join(', ')}`].filter((part) => part !== null).join(', ') || 'trees not told yet';

export const dayWords = ({ at }: Pick, zone: string): string => dayMonth(Date.parse(at), zone);

export const massWords = ({ pickedKg, buckets, bucketKg }: Pick): string =>
  pickedKg === null ? 'not weighed yet' : `${kg(pickedKg)}${buckets !== null && bucketKg !== null && Math.abs(buckets * bucketKg - pickedKg) < 0.05 ? `, ${String(buckets)} buckets` : ''}`;

/** The count in one sentence, for those who do not see its picture. */
export const maturityWords = ({ maturity }: Pick): string => {
  if (maturity === null) return 'ripeness not told yet';
  const { stage, index, counts } = maturity;
  if (index === null || counts === null) return `${stage}, by eye`;
  const most = counts.indexOf(Math.max(...counts));
  return `${stage}, index ${index.toFixed(1)}; most common: ${maturityClasses[most] ?? ''}`;
};

export interface ClockWords {
  readonly mark: 'late' | 'waiting' | 'done';
  readonly text: string;
}

export const clockWords = ({ clock: { hours, withinHours, state }, takenBack }: Pick): ClockWords | null => {
  if (takenBack !== null) return null;
  const told = String(Math.floor(hours));
  switch (state) {
    case 'late':
      return { mark: 'late', text: `waiting for ${told} h, of ${String(withinHours)} h` };
    case 'waiting':
      return { mark: 'waiting', text: `${told} h since it was picked, of ${String(withinHours)} h` };
    case 'was-late':
      return { mark: 'done', text: `${told} h from tree to brine, more than ${String(withinHours)} h` };
    case 'in-time':
      return { mark: 'done', text: `${told} h from tree to brine` };
  }
};

export interface Way {
  readonly kind: 'batch' | 'culls' | 'rest';
  readonly text: string;
  readonly kg: number;
  readonly lot?: string;
}

/** Where the fruit is: in which lots, sorted out, and what nobody has accounted for. */
export const waysOf = (pick: Pick, drumName: (id: string) => string): readonly Way[] => [
  ...pick.batches.map(({ lot, drum, kg: amount }): Way => ({ kind: 'batch', kg: amount, lot, text: `${kg(amount)} in ${lot}, ${drumName(drum)}` })),
  ...(pick.culledKg > 0 ? [{ kind: 'culls' as const, kg: pick.culledKg, text: `${kg(pick.culledKg)} sorted out: ${pick.culls.map(({ cause, kg: amount }) => `${cause} ${kg(amount)}`).join(', ')}` }] : []),
  ...((pick.unaccountedKg ?? 0) >= 0.05 ? [{ kind: 'rest' as const, kg: pick.unaccountedKg ?? 0, text: `${kg(pick.unaccountedKg ?? 0)} ${pick.batches.length === 0 ? 'waiting' : 'unaccounted for'}` }] : []),
];

/** Picks of which there may be fruit to put into a drum, those that wait longest first. */
export const openPicks = (picks: readonly Pick[]): readonly Pick[] =>
  picks.filter(({ takenBack, unaccountedKg, batches }) => takenBack === null && (unaccountedKg === null ? batches.length === 0 : unaccountedKg >= 1)).toReversed();
