import type { CureStyle, Stage } from '../cure/batch.ts';
import type { AlertPriority } from './alert.ts';

export const limitKinds = ['range', 'silence', 'fault', 'due', 'forecast', 'rate', 'stuck', 'milestone', 'rebound', 'exposure', 'calibration', 'collector', 'outlet'] as const;
export type LimitKind = (typeof limitKinds)[number];

/**
 * One limit, editable, with its source. A reading is outside when reading + uncertainty > high, or reading - uncertainty < low.
 * Once outside it is inside again only past the limit by `deadband`. Safety limits raise at once (`onDelayS` 0) and use `offDelayS`.
 */
export interface Limit {
  readonly id: string;
  readonly kind: LimitKind;
  readonly quantity: string;
  readonly unit: string;
  /** The one stage and style it applies to (the same number for two stages is two limits); null: every one while the fruit is in the drum. */
  readonly stage: Stage | null;
  readonly style: CureStyle | null;
  readonly low: number | null;
  readonly high: number | null;
  readonly deadband: number;
  readonly onDelayS: number;
  readonly offDelayS: number;
  readonly priority: AlertPriority;
  readonly source: string;
}

/** What a person may change in a limit; the new source is the person's own. */
export type LimitChange = Partial<Pick<Limit, 'low' | 'high' | 'deadband' | 'onDelayS' | 'offDelayS' | 'priority' | 'source'>>;
