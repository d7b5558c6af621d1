import type { SeriesId } from '../reading/reading.ts';
import type { Rfc3339 } from '../units/time.ts';

/** One series of one day as it lies in the store: `part` 0 is the day, later parts are what came after the day was sealed. */
export interface SealedBlock {
  readonly series: SeriesId;
  readonly part: number;
  readonly count: number;
  /** SHA-256 of the stored block, hex. */
  readonly sha256: string;
}

/**
 * What is sealed of a local day: the digests of its blocks, and the head of the journal at that moment, so that neither can be changed
 * alone. Signed over its RFC 8785 form with the key of the site.
 */
export interface DaySeal {
  /** The local date, and the moments it begins and ends: 23 or 25 hours apart when the clocks change. */
  readonly day: string;
  readonly from: Rfc3339;
  readonly to: Rfc3339;
  /** True when the day was sealed before, and this is what came late. */
  readonly amends: boolean;
  readonly blocks: readonly SealedBlock[];
  readonly head: { readonly sequence: number; readonly hash: string };
  readonly publicKey: string;
}
