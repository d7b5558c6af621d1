import type { Ingredient, Instrument } from '#contract';
import { typedNumber } from '../../format/units.ts';

/** What a person says of one bottle, as text; `found`: what the meter read in it before it was adjusted. All of it may stay empty. */
export interface BottleText {
  readonly lot: string;
  readonly expiresOn: string;
  readonly openedOn: string;
  readonly found: string;
}

export const noBottle: BottleText = { lot: '', expiresOn: '', openedOn: '', found: '' };

export const bottleTold = ({ lot, expiresOn, openedOn }: BottleText): { readonly bottle?: { readonly lot?: string; readonly expiresOn?: string; readonly openedOn?: string } } => {
  const bottle = { ...(lot.trim() !== '' && { lot: lot.trim() }), ...(expiresOn !== '' && { expiresOn }), ...(openedOn !== '' && { openedOn }) };
  return Object.keys(bottle).length === 0 ? {} : { bottle };
};

/** A bottle in one line, so that its fields need not stand open. */
export const bottleWords = ({ lot, expiresOn }: BottleText): string => {
  const told = [...(lot === '' ? [] : [`lot ${lot}`]), ...(expiresOn === '' ? [] : [`good until ${expiresOn}`])];
  return told.length === 0 ? 'The bottle, and as found' : `Bottle: ${told.join(', ')}`;
};

/** What the meter read before it was adjusted, in the buffers somebody looked at. */
export const foundTold = (buffers: readonly { readonly ph: number | null; readonly found: string }[]): { readonly asFound?: { ph: number; reads: number }[] } => {
  const asFound = buffers.flatMap(({ ph, found }) => {
    const reads = typedNumber(found);
    return ph === null || reads === null ? [] : [{ ph, reads }];
  });
  return asFound.length === 0 ? {} : { asFound };
};

type Known = Instrument['checks'][number]['buffers'];

/** The bottles of the newest check of an instrument that named any: they are most likely still in use. */
export const lastBottles = (instruments: readonly Instrument[], id: string): Known =>
  instruments.find((each) => each.id === id)?.checks.map(({ buffers }) => buffers.filter(({ lot, expiresOn, openedOn }) => lot !== null || expiresOn !== null || openedOn !== null)).find((buffers) => buffers.length > 0) ?? [];

/** A buffer is another pH at another temperature; bottles that differ by more are not the same (7.00 and 6.86 are two families). */
const sameBottlePh = 0.12;

/** The bottle of last time for a buffer of this pH, where nobody has said anything of it yet. */
export const withLastBottle = <Each extends BottleText>(buffer: Each, ph: number | null, last: Known, withinPh: number = sameBottlePh): Each => {
  if (ph === null || buffer.lot !== '' || buffer.expiresOn !== '' || buffer.openedOn !== '') return buffer;
  const near = last.filter((each) => Math.abs(each.ph - ph) <= withinPh).toSorted((one, other) => Math.abs(one.ph - ph) - Math.abs(other.ph - ph))[0];
  return near === undefined ? buffer : { ...buffer, lot: near.lot ?? '', expiresOn: near.expiresOn ?? '', openedOn: near.openedOn ?? '' };
};

/** What a lot of buffer in the stores is called on its bottle. */
export const bottleLot = ({ id, theirLot }: Pick<Ingredient, 'id' | 'theirLot'>): string => theirLot ?? id;

/** The lots of the stores that these bottles came from. */
export const lotsOfBottles = (buffers: readonly BottleText[], stores: readonly Ingredient[]): { readonly lots?: string[] } => {
  const lots = stores.filter((each) => each.item === 'buffer' && buffers.some(({ lot }) => lot.trim() === bottleLot(each))).map(({ id }) => id);
  return lots.length === 0 ? {} : { lots };
};
