import type { Batch, Shed } from '../journal/shed.ts';
import { isOpen, type Deviation } from './deviation.ts';

/** The deviations of a lot, also those of the lot it was split from that began before the split, in the order of their numbers. */
export const deviationsOfLot = ({ deviations }: Pick<Shed, 'deviations'>, { lot, lineage, from: splitFrom }: Batch): readonly Deviation[] =>
  deviations.filter((deviation) => deviation.lot === lot || (lineage.includes(deviation.lot) && splitFrom !== null && deviation.from < splitFrom.at));

export const openDeviationsOf = (shed: Pick<Shed, 'deviations'>, batch: Batch): readonly Deviation[] => deviationsOfLot(shed, batch).filter(isOpen);
