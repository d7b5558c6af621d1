import type { Question as QuestionShape } from '#contract';
import { openQuestions } from '#domain/detect/open-questions.ts';
import type { AskedQuestion } from '#domain/detect/question.ts';
import { questionText } from '#domain/detect/question-text.ts';
import { isAct, type Batch } from '#domain/journal/shed.ts';
import { toRfc3339 } from '#domain/units/time.ts';
import type { ShedModel } from './shed-model.ts';

/** Questions that wait for an answer, the newest first; of one drum, or of all. */
export const questionsNow = (model: ShedModel, drum: string | null = null): QuestionShape[] =>
  openQuestions(model.shed(), model.clock.now())
    .filter((question) => drum === null || question.drum === drum)
    .toSorted((one, other) => other.at - one.at)
    .map((question) => questionShape(model, question));

const questionShape = (model: ShedModel, question: AskedQuestion): QuestionShape => {
  const { answer: _none, at, askedAt, ...rest } = question;
  const shed = model.shed();
  const batch = shed.batches.get(question.lot);
  return {
    ...rest,
    at: toRfc3339(at),
    askedAt: toRfc3339(askedAt),
    ...questionText(question, (id) => shed.drums.get(id)?.name ?? id, model.clock.now(), model.zone),
    brine: question.kind === 'unlogged-change' && batch !== undefined ? brineAsLast(batch, at) : null,
  };
};

/** A change is most often what the last one was. */
export const brineAsLast = (batch: Batch, before: number): { readonly brineL: number; readonly saltGPerL: number } => {
  const last = batch.acts.filter(isAct('brine-changed')).findLast(({ at }) => at < before);
  return { brineL: last?.body.brineL ?? batch.brineL, saltGPerL: last?.body.saltGPerL ?? batch.saltGPerL };
};
