import type { Slug } from '../reading/reading.ts';
import { aboutTime } from '../units/about-time.ts';
import type { EpochMs } from '../units/time.ts';
import type { Question } from './question.ts';

export interface QuestionText {
  readonly text: string;
  /** Why it is asked. */
  readonly because: string;
  readonly yes: string;
  readonly no: string;
}

/** What is asked, in words, with the two answers as they stand on their buttons. */
export const questionText = (question: Question, nameOf: (drum: Slug) => string, now: EpochMs, zone: string): QuestionText => {
  const drum = nameOf(question.drum);
  const at = aboutTime(question.at, now, zone, 10);
  switch (question.kind) {
    case 'unlogged-change': {
      const size = Math.abs(question.stepC ?? 0).toFixed(1);
      return {
        text: `Was brine changed in ${drum} ${at}?`,
        because: `Its temperature ${(question.stepC ?? 0) < 0 ? 'fell' : 'rose'} by ${size} °C at once and came part of the way back, as it does when fresh brine goes in. No change is written down.`,
        yes: 'Yes, log it',
        no: 'No',
      };
    }
    case 'right-drum':
      return {
        text: `Is the brine change ${at} written down for the right drum? It says ${drum}.`,
        because: `New brine should have shown in ${drum}, and its temperature did not move.${question.otherDrum === null ? '' : ` ${nameOf(question.otherDrum)} did at that time.`}`,
        yes: `Yes, ${drum}`,
        no: 'No, I will correct it',
      };
    case 'probe-in-air':
      return {
        text: `Is the probe of ${drum} in the brine, and the fruit covered?`,
        because: 'For a day it has followed the air of the shed, as no drum can. Go and look: fruit above the brine spoils.',
        yes: 'It was out, now it is in',
        no: 'It is in the brine',
      };
  }
};
