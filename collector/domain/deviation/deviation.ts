import type { Slug } from '../reading/reading.ts';
import type { Alert } from '../rules/alert.ts';
import type { EpochMs } from '../units/time.ts';

/**
 * How a deviation may end for the product. The first four are those of 21 CFR 114.89: cleared and released, fully reworked, processed as
 * low-acid food, destroyed. The last is for one that touched no product, such as a probe taken out of the brine.
 */
export const dispositions = ['released', 'reworked', 'processed-as-low-acid', 'destroyed', 'no-product-affected'] as const;
export type Disposition = (typeof dispositions)[number];

export interface DeviationAction {
  readonly at: EpochMs;
  readonly by: string;
  readonly text: string;
}

export interface DeviationClosing {
  readonly at: EpochMs;
  /** The account it was written under, and the person who answers for it. */
  readonly by: string;
  readonly name: string;
  readonly cause: string;
  readonly action: string;
  readonly prevention: string | null;
  readonly disposition: Disposition;
  readonly evaluation: string | null;
  readonly entry: number;
}

/** A time outside a critical limit, with its own number: `D-1`, `D-2`… of the site, without holes, in the order of the journal. */
export interface Deviation {
  readonly number: string;
  /** The entry that opened it. */
  readonly entry: number;
  readonly openedAt: EpochMs;
  readonly lot: string;
  readonly drum: Slug | null;
  /** The alert it follows; null: a pH of packed jars. */
  readonly alert: string | null;
  readonly limit: string;
  readonly quantity: string;
  readonly bound: Alert['limit'];
  readonly from: EpochMs;
  /** Null: still outside. */
  readonly to: EpochMs | null;
  readonly worst: number | null;
  readonly actions: readonly DeviationAction[];
  /** The last one holds; an earlier one that was mistaken stays readable. */
  readonly closings: readonly DeviationClosing[];
}

export const closingOf = ({ closings }: Pick<Deviation, 'closings'>): DeviationClosing | null => closings.at(-1) ?? null;
export const isOpen = (deviation: Pick<Deviation, 'closings'>): boolean => closingOf(deviation) === null;

export const deviationNumber = (index: number): string => `D-${String(index)}`;
