import type { EpochMs } from '../units/time.ts';
import type { Slug } from '../reading/reading.ts';

/** Alert states of IEC 62682. */
export const alertStates = ['normal', 'unacknowledged', 'acknowledged', 'returned', 'shelved', 'suppressed', 'out-of-service'] as const;
export type AlertState = (typeof alertStates)[number];

/** `note` is written down, not announced. */
export const alertPriorities = ['high', 'medium', 'low', 'note'] as const;
export type AlertPriority = (typeof alertPriorities)[number];

/** Which side of a limit is outside. */
export type LimitSide = 'high' | 'low';

export interface Shelf {
  readonly by: string;
  readonly until: EpochMs;
  readonly reason: string;
}

/** What a person did about an alert. */
export interface AlertAction {
  readonly at: EpochMs;
  readonly by: string;
  readonly text: string;
  readonly disposition: string | null;
}

/** The announced form of a condition, as the journal tells it. */
export interface Alert {
  readonly id: string;
  readonly rule: string;
  readonly drum: Slug | null;
  readonly lot: string | null;
  readonly quantity: string;
  readonly priority: AlertPriority;
  readonly state: AlertState;
  readonly since: EpochMs;
  readonly raisedAt: EpochMs;
  readonly returnedAt: EpochMs | null;
  readonly acknowledgedBy: string | null;
  readonly acknowledgedAt: EpochMs | null;
  readonly value: number | null;
  readonly peak: number | null;
  readonly limit: { readonly value: number | null; readonly unit: string; readonly source: string; readonly side: LimitSide | null };
  readonly text: string;
  readonly advice: string;
  /** By whom, until when and why it was put aside; null while it is not. */
  readonly shelf: Shelf | null;
  /** Each time outside the limit within this alert; `to` is null while it lasts. */
  readonly excursions: readonly { readonly from: EpochMs; readonly to: EpochMs | null; readonly peak: number | null }[];
}

