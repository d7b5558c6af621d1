import type { LimitSide } from './alert.ts';
import type { Message } from './message.ts';

/** What a rule that looks now and then has found: a condition that is true, with what an alert says of it. */
export interface Finding extends Message {
  readonly side: LimitSide | null;
  readonly value: number;
  readonly limitValue: number;
}

/** A value and when it was so. */
export interface Sample {
  readonly at: number;
  readonly value: number;
}
