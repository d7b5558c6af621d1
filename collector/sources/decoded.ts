import type { TimeDoubt } from '#domain/reading/admit.ts';
import type { Reading, SeriesId, Slug } from '#domain/reading/reading.ts';

/** What one message holds: every refusal has a reason that is counted. */
export interface Decoded {
  readonly readings: readonly Reading[];
  /** Reasons, one for each thing refused: the whole message, or single records of a pack. */
  readonly refused: readonly string[];
  /** Readings whose time cannot be true: kept aside, not stored. */
  readonly aside: readonly { readonly reading: Reading; readonly reason: TimeDoubt }[];
  readonly presence: { readonly probe: Slug; readonly online: boolean } | null;
  /** SenML `ut`: how long a series may stay quiet. */
  readonly quiet: readonly { readonly series: SeriesId; readonly updateS: number }[];
}
