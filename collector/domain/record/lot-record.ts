import type { Rfc3339 } from '../units/time.ts';
import type { RecordAct, RecordBatch, RecordIngredient, RecordPacking, RecordProducer, RecordState } from './record-story.ts';
import type { ClockOffset } from './local-time.ts';

/**
 * The record of a lot: what was measured and done, as one plain JSON object. Every paper (PDF, CSV, HTML) is drawn from it, and it is what
 * is signed. Times are RFC 3339 in UTC; `clock` tells the local ones. `null` is "not recorded" or "not measured", never nought.
 */
export const recordForm = 'brineward-lot-record/1';

/** Unknown is never counted as inside. */
export type Outcome = 'inside' | 'outside' | 'unknown';

export interface LotRecord {
  readonly form: typeof recordForm;
  readonly lot: string;
  readonly madeAt: Rfc3339;
  readonly site: { readonly id: string; readonly name: string; readonly zone: string };
  readonly clock: readonly ClockOffset[];
  readonly producer: RecordProducer | null;
  readonly batch: RecordBatch;
  readonly packing: readonly RecordPacking[];
  /** A local date, chosen by the producer; null: nobody chose one. */
  readonly bestBefore: string | null;
  readonly state: RecordState;
  readonly limits: readonly RecordLimit[];
  readonly phCourse: PhCourse | null;
  readonly departures: readonly RecordDeparture[];
  readonly missing: readonly RecordMissing[];
  readonly instruments: readonly RecordInstrument[];
  readonly jars: RecordJars | null;
  readonly reviews: readonly RecordReview[];
  readonly ingredients: readonly RecordIngredient[];
  readonly acts: readonly RecordAct[];
  readonly watched: readonly WatchedQuantity[];
  readonly byHand: readonly HandValue[];
  readonly calibrations: readonly RecordCalibration[];
  readonly journal: readonly JournalLine[];
  readonly seals: readonly SealLine[];
}

/** One limit that stood for this lot, and what was found against it. */
export interface RecordLimit {
  readonly id: string;
  readonly quantity: string;
  readonly stage: string;
  readonly side: 'high' | 'low';
  readonly value: number;
  readonly unit: string;
  readonly source: string;
  /** Who set it here, and in which entry; null: as the program came. */
  readonly setBy: { readonly who: string; readonly entry: number } | null;
  readonly priority: string;
  readonly from: Rfc3339 | null;
  readonly to: Rfc3339 | null;
  readonly worst: number | null;
  readonly uncertainty: number | null;
  /** Values that count. */
  readonly n: number;
  /** Share of the time observed, 0 to 1; null where it was measured by hand. */
  readonly observed: number | null;
  readonly outcome: Outcome;
  readonly why: string | null;
  /** Times outside it, as the alerts tell. */
  readonly excursions: number;
}

/** When the pH in the drum first came to 4.6 or less, and whether it stayed: a pH that was reached can be lost again. */
export interface PhCourse {
  readonly limit: number;
  /** When it was first found at or below the limit, with its uncertainty, and on which day of the cure; null: never. */
  readonly firstAt: Rfc3339 | null;
  readonly day: number | null;
  /** The last time after that it was found above; null: it was not. */
  readonly lostAt: Rfc3339 | null;
  readonly last: { readonly value: number; readonly uncertainty: number; readonly at: Rfc3339 } | null;
}

/** A time outside a limit. Never taken back by what came later. */
export interface RecordDeparture {
  /** `D-1`: its number in the log of deviations; null where it has none. */
  readonly number: string | null;
  readonly limit: string;
  readonly quantity: string;
  readonly drum: string | null;
  readonly bound: { readonly value: number | null; readonly unit: string; readonly source: string; readonly side: 'high' | 'low' | null };
  readonly priority: string;
  readonly from: Rfc3339;
  readonly to: Rfc3339 | null;
  readonly peak: number | null;
  readonly acknowledged: { readonly by: string; readonly at: Rfc3339 } | null;
  readonly cause: string | null;
  /** What was done, the oldest first. */
  readonly actions: readonly { readonly text: string; readonly by: string; readonly at: Rfc3339 | null }[];
  readonly prevention: string | null;
  readonly evaluation: string | null;
  readonly disposition: string | null;
  readonly closed: { readonly by: string; readonly at: Rfc3339 } | null;
}

export interface RecordMissing {
  readonly what: string;
  readonly why: string;
  readonly from: Rfc3339 | null;
  readonly to: Rfc3339 | null;
}

export interface RecordInstrument {
  readonly id: string;
  readonly measures: string;
  /** `calibrated` as required for what it was used for here; `not-calibrated`; `not-needed` where no check is asked. */
  readonly state: 'calibrated' | 'not-calibrated' | 'not-needed';
  readonly text: string;
  readonly used: number;
}

export interface RecordJars {
  readonly filled: number;
  readonly out: readonly { readonly entry: number; readonly at: Rfc3339; readonly to: string; readonly jars: number }[];
  /** Gone without a buyer, by what became of them. */
  readonly otherwise: Readonly<Record<string, number>>;
  readonly returned: number;
  /** In store by what was written. */
  readonly left: number;
  /** The last count there was; null: nobody counted. */
  readonly counted: { readonly jars: number; readonly at: Rfc3339; readonly entry: number; readonly unaccounted: number } | null;
}

export interface RecordReview {
  readonly by: string;
  readonly at: Rfc3339;
  readonly until: number;
  readonly found: string | null;
}

/** What probes told of one quantity while the fruit was in a drum. */
export interface WatchedQuantity {
  readonly quantity: string;
  readonly unit: string;
  readonly uncertainty: number;
  readonly probes: readonly string[];
  readonly days: readonly WatchedDay[];
  readonly gaps: readonly { readonly from: Rfc3339; readonly to: Rfc3339; readonly reason: string | null; readonly byHand: number }[];
  readonly observed: number;
}

/** One local day, or the part of it in the drum; no numbers where nothing was measured. */
export interface WatchedDay {
  readonly day: string;
  readonly from: Rfc3339;
  readonly to: Rfc3339;
  readonly n: number;
  readonly min: number | null;
  readonly mean: number | null;
  readonly max: number | null;
  readonly observed: number;
}

export interface HandValue {
  readonly entry: number;
  readonly at: Rfc3339;
  readonly of: 'drum' | 'jar';
  readonly quantity: string;
  readonly value: number;
  readonly unit: string;
  readonly uncertainty: number;
  readonly instrument: string | null;
  readonly jar: string | null;
  readonly by: string;
  /** Why it does not count; null: it does. */
  readonly notUsable: string | null;
}

export interface RecordCalibration {
  readonly instrument: string;
  readonly at: Rfc3339;
  readonly by: string;
  readonly kind: 'ph' | 'ice-point' | 'buffer-check';
  readonly text: string;
  /** Why it was not passed; null: it was. */
  readonly failed: string | null;
  /** Why what was measured before it is in doubt, though it was passed; null: it is not. */
  readonly doubt: string | null;
}

export interface JournalLine {
  readonly sequence: number;
  readonly time: Rfc3339;
  readonly who: string;
  readonly kind: string;
  readonly previousHash: string;
  readonly hash: string;
}

export interface SealLine {
  readonly entry: number;
  readonly day: string;
  readonly hash: string;
  readonly amends: boolean;
  readonly blocks: readonly { readonly series: string; readonly part: number; readonly count: number; readonly sha256: string }[];
}
