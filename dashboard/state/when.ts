import { fromLocalField, localField, startOfDay } from '../format/time.ts';
import { hourMs } from '#contract';

/** When an act happened, told the way people tell it. */
export const whenChoices = ['just now', '1 h ago', 'this morning', 'other'] as const;
export type WhenChoice = (typeof whenChoices)[number];

/** Eight in the morning: when the daily round is walked (assumption; `other` says it exactly). */
const morningMs = 8 * hourMs;

/** Null while `other` is not filled in, or names a time to come. */
export const whenTime = (choice: WhenChoice, field: string, now: number, zone: string): number | null => {
  switch (choice) {
    case 'just now':
      return now;
    case '1 h ago':
      return now - hourMs;
    case 'this morning':
      return Math.min(startOfDay(now, zone) + morningMs, now);
    case 'other': {
      const t = fromLocalField(field, zone);
      // A minute's grace: the field has no seconds.
      return t === null || t > now + 60_000 ? null : Math.min(t, now);
    }
  }
};

export const whenField = (t: number, zone: string): string => localField(t, zone);
