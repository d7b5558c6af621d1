import type { EpochMs } from '../units/time.ts';
import type { Calibrated, DoubtDecided, InstrumentAdded } from './check-entries.ts';

/** Checks, decisions, recalls and reviews as the shed keeps them: with who wrote them, when and in which entry. */
export type KeptCalibration = Calibrated & { readonly by: string; readonly sequence: number };

export type HandInstrument = InstrumentAdded & { readonly by: string; readonly at: EpochMs };

export type DecidedDoubt = DoubtDecided & { readonly by: string; readonly at: EpochMs; readonly sequence: number };

/** A lot called back, from the moment it was said. */
export interface Recall {
  readonly lot: string;
  readonly at: EpochMs;
  readonly reason: string;
  readonly by: string;
  readonly sequence: number;
}

/** Somebody read the records up to an entry. */
export interface Review {
  readonly lot: string | null;
  readonly until: number;
  readonly name: string;
  readonly found: string | null;
  readonly by: string;
  readonly at: EpochMs;
  readonly sequence: number;
}
