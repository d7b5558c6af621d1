import type { Slug } from '../reading/reading.ts';
import type { EpochMs } from '../units/time.ts';

/** What the readings make somebody ask: a change nobody wrote down, a change that left no trace, a probe that is where the air is. */
export const questionKinds = ['unlogged-change', 'right-drum', 'probe-in-air'] as const;
export type QuestionKind = (typeof questionKinds)[number];

export const questionAnswers = ['yes', 'no'] as const;
export type QuestionAnswer = (typeof questionAnswers)[number];

export interface Question {
  readonly id: string;
  readonly drum: Slug;
  readonly lot: string;
  readonly kind: QuestionKind;
  /** What it is about: when the step was, when the change was said to be, until when the probe followed the air. */
  readonly at: EpochMs;
  /** The size of the step, °C; null where there is none. */
  readonly stepC: number | null;
  /** The entry of the change that left no trace. */
  readonly entry: number | null;
  /** The drum that jumped at that time instead, if one did. */
  readonly otherDrum: Slug | null;
}

/** As the journal tells it. */
export interface AskedQuestion extends Question {
  readonly askedAt: EpochMs;
  readonly answer: { readonly answer: QuestionAnswer; readonly by: string; readonly at: EpochMs } | null;
}
