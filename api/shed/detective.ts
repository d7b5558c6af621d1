import { byApi, type Draft } from '#domain/journal/entry.ts';
import { findQuestions } from '#domain/detect/find-questions.ts';
import { isAsked } from '#domain/detect/open-questions.ts';
import { toRfc3339 } from '#domain/units/time.ts';
import type { Heat } from './heat.ts';
import type { ShedModel } from './shed-model.ts';

/** Looks over the readings of every drum and writes down what they make one ask: what stands in the journal is not asked again. */
export interface Detective {
  /** Now and then; a round that is still going on is left to end. */
  look(): Promise<void>;
}

export const createDetective = (model: ShedModel, heat: Heat): Detective => {
  let going = false;
  const look = async (): Promise<void> => {
    const weeks = await Promise.all([...model.shed().drums.keys()].map((id) => heat.week(id)));
    const watched = weeks.flatMap((week) => (week === null ? [] : [{ batch: week.batch, trace: week }]));
    const asked = findQuestions(watched, model.clock.now()).filter((question) => !isAsked(model.shed().questions.values(), question));
    const drafts = asked.map((question): Draft => ({ who: byApi, kind: 'question-asked', body: { ...question, at: toRfc3339(question.at) } }));
    if (drafts.length > 0) model.write(drafts);
  };
  return {
    look: async () => {
      if (going) return;
      going = true;
      try {
        await look();
      } finally {
        going = false;
      }
    },
  };
};
