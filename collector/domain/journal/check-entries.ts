import type { CheckSettings } from '../calibration/check-settings.ts';
import type { Disposition } from '../deviation/deviation.ts';
import type { Slug } from '../reading/reading.ts';
import type { Rfc3339 } from '../units/time.ts';

/** What was written on the bottle a buffer came from; days are local dates (`2026-11-25`). */
export interface Bottle {
  readonly lot?: string;
  readonly expiresOn?: string;
  readonly openedOn?: string;
}

/** A buffer and what the meter showed in it, in pH. */
export interface AsFound {
  readonly ph: number;
  readonly reads: number;
}

interface Checked {
  /** The probe, or the instrument held in the hand. */
  readonly probe: Slug;
  readonly at: Rfc3339;
  /** Ingredient lots of the buffers used. */
  readonly lots?: readonly string[];
  readonly note?: string;
}

/** A check of an instrument: an electrode in two buffers or more, one buffer read as a sample, a thermometer in melting ice. */
export type Calibrated =
  | (Checked & {
      readonly kind: 'ph';
      readonly points: readonly { readonly ph: number; readonly mv: number; readonly bottle?: Bottle }[];
      readonly temperatureC: number;
      /** What the meter showed in buffers before it was adjusted: tells whether what it measured before still stands. */
      readonly asFound?: readonly AsFound[];
    })
  | (Checked & { readonly kind: 'ice-point'; readonly readingC: number; readonly referenceC: number; readonly reference?: string })
  | (Checked & { readonly kind: 'buffer-check'; readonly ph: number; readonly reads: number; readonly bottle?: Bottle });

export interface InstrumentAdded {
  readonly id: Slug;
  readonly name: string;
  readonly measures: 'ph' | 'temperature';
  readonly serial?: string;
  readonly inUseSince?: string;
  readonly certificate?: { readonly number: string; readonly laboratory: string; readonly dueOn: string };
}

/** What a person decides about results of a lot that a failed check put in doubt. */
export interface DoubtDecided {
  readonly instrument: Slug;
  /** The entry of the failed check. */
  readonly check: number;
  readonly lot: string;
  readonly decision: 'stands' | 'discarded';
  readonly reason: string;
}

export interface DeviationClosed {
  readonly deviation: string;
  readonly cause: string;
  readonly action: string;
  readonly prevention?: string;
  readonly disposition: Disposition;
  /** Who answers for it, in person. */
  readonly by: string;
  /** Who judged the product, with what competence, and what was found. */
  readonly evaluation?: string;
}

export interface CheckEntryBodies {
  calibrated: Calibrated;
  'instrument-added': InstrumentAdded;
  'doubt-decided': DoubtDecided;
  'checks-set': { readonly change: Partial<CheckSettings> };
  'deviation-action': { readonly deviation: string; readonly text: string };
  'deviation-closed': DeviationClosed;
  recalled: { readonly lot: string; readonly at: Rfc3339; readonly reason: string };
  /** Somebody read what was written up to an entry: of one lot, or of all (null). */
  reviewed: { readonly lot: string | null; readonly until: number; readonly name: string; readonly found?: string };
}
