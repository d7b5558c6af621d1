import type { Rfc3339 } from '../units/time.ts';

/** Somebody outside was let in to read the records of named lots, until a time. The code is in no journal. */
export interface InspectionGiven {
  readonly id: string;
  /** For whom, in a person's words. */
  readonly name: string;
  readonly lots: readonly string[];
  readonly until: Rfc3339;
}

export interface InspectionEntryBodies {
  'inspection-given': InspectionGiven;
  /** Taken back before its time. */
  'inspection-ended': { readonly id: string };
  /** An inspector looked at a record; `inspection` is null where it was a named account. `form`: the paper, or `trace`. */
  'record-seen': { readonly lot: string; readonly form: string; readonly inspection: string | null };
}

/** Who wrote what an inspector with a code did. */
export const byInspection = (id: string): string => `inspection:${id}`;
