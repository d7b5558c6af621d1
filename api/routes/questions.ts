import { byUser } from '#domain/journal/entry.ts';
import { openQuestions } from '#domain/detect/open-questions.ts';
import { toRfc3339 } from '#domain/units/time.ts';
import { ApiError, notFound } from '../errors.ts';
import { brineAsLast, questionsNow } from '../shed/question-view.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import { writeEntry } from './entries.ts';
import type { Handlers } from './mount.ts';

/** What the readings made us ask, and what people answer. */
export const questionRoutes = (model: ShedModel): Handlers<'questions' | 'answerQuestion'> => ({
  questions: () => ({ questions: questionsNow(model) }),
  answerQuestion: ({ params, body, user }) => {
    const id = params.id ?? '';
    const known = model.shed().questions.get(id);
    if (known === undefined) throw notFound(`question ${id}`);
    const question = openQuestions(model.shed(), model.clock.now()).find((open) => open.id === id);
    if (question === undefined) throw new ApiError('wrong-state', 'This question has been answered or settled already. Nothing was written.');
    const { answer, ...given } = body;
    const batch = model.shed().batches.get(question.lot);
    if (batch === undefined) throw notFound(`lot ${question.lot}`);
    const logs = question.kind === 'unlogged-change' && answer === 'yes';
    // Of one kind of question only does an answer write a change: figures with any other would be lost.
    if (!logs && Object.keys(given).length > 0) throw new ApiError('does-not-fit', 'Litres and salt belong to a change that is logged with the answer yes. Nothing was written.', [{ path: Object.keys(given)[0] ?? '', message: 'is not asked for by this answer' }]);
    const last = brineAsLast(batch, question.at);
    const act = logs ? writeEntry(model, batch, { kind: 'brine-changed', at: toRfc3339(question.at), brineL: given.brineL ?? last.brineL, saltGPerL: given.saltGPerL ?? last.saltGPerL }, { user: user.name, key: null }) : null;
    model.write([{ who: byUser(user.name), kind: 'question-answered', body: { id, answer, entry: act?.sequence ?? null } }]);
    return { id, answer, entry: act?.sequence ?? null };
  },
});
