import type { NewEntry } from '#contract';
import type { UnitChoice } from '../format/units.ts';
import type { Kept } from './kept.ts';
import { storyWords, type StoryWords } from './story-words.ts';

/** An act in words before the shed computer has made an entry of it. */
export const actWords = ({ kind, ...body }: NewEntry, units: UnitChoice): StoryWords => storyWords({ kind, body }, units);

/** One kept act in words. */
export const keptWords = ({ what }: Pick<Kept, 'what'>, units: UnitChoice): StoryWords => {
  if (what.kind === 'skip') return { title: `Left out: ${what.title}`, detail: what.reason };
  return what.kind === 'finish' ? { title: `Done: ${what.title}`, detail: '' } : actWords(what.entry, units);
};
