import type { Slug } from '../reading/reading.ts';
import type { Batch, Shed } from './shed.ts';

/** Two lots in one drum at one time: what no act may bring about. */
export interface StayClash {
  readonly drum: Slug;
  readonly lots: readonly [string, string];
}

/** Every such pair; a part lay with the lot it was split from until then, which is no clash. */
export const stayClashes = ({ batches }: Pick<Shed, 'batches'>): readonly StayClash[] => {
  const all = [...batches.values()];
  return all.flatMap((one, index) => all.slice(index + 1).flatMap((other) => ownStays(one).flatMap(({ drum, from, to }) =>
    ownStays(other).some((stay) => stay.drum === drum && stay.from < (to ?? Infinity) && from < (stay.to ?? Infinity)) ? [{ drum, lots: [one.lot, other.lot] as const }] : [],
  )));
};

const ownStays = ({ stays, from: split }: Batch): Batch['stays'] =>
  split === null ? stays : stays.filter(({ to }) => to === null || to > split.at).map((stay) => ({ ...stay, from: Math.max(stay.from, split.at) }));

/** The clashes an act brings about. */
export const newClashes = (before: Pick<Shed, 'batches'>, after: Pick<Shed, 'batches'>): readonly StayClash[] => {
  const known = new Set(stayClashes(before).map(keyOf));
  return stayClashes(after).filter((clash) => !known.has(keyOf(clash)));
};

const keyOf = ({ drum, lots }: StayClash): string => `${drum} ${lots.join(' ')}`;
