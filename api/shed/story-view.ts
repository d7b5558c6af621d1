import type { StoryEntry } from '#contract';
import { actEvidence } from '#domain/calibration/act-evidence.ts';
import { instrumentBookOf } from '#domain/calibration/book.ts';
import type { StoryAct } from '#domain/journal/shed.ts';
import { storyShape } from './shape.ts';
import type { ShedModel } from './shed-model.ts';

/** An act as it stands in the story; a measurement that is no evidence says why. */
export const storyEntryOf = (model: ShedModel, act: StoryAct): StoryEntry => {
  const evidence = actEvidence(act, instrumentBookOf(model.shed(), model.zone, model.clock.now()));
  return { ...storyShape(act), ...(evidence !== null && !evidence.usable && { notUsable: evidence.text }) };
};
