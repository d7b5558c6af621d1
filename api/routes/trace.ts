import type { RequestHandler, Router } from 'express';
import { labelNote, type RecallExercise as Shape } from '#contract';
import { byUser } from '#domain/journal/entry.ts';
import type { RecallExercise } from '#domain/journal/recall-entries.ts';
import { sequenceOfKey } from '#domain/journal/written-keys.ts';
import { recallOf } from '#domain/trace/recall.ts';
import { fromRfc3339, minuteMs, toRfc3339 } from '#domain/units/time.ts';
import type { UserOf } from '../access/session-cookie.ts';
import { ApiError, notFound } from '../errors.ts';
import { recallPaper } from '../papers/recall-paper.ts';
import { noteLook, readableBatch } from '../shed/readable.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import { traceShape, walkOf } from '../shed/trace-view.ts';
import { allow, mount, type Handlers } from './mount.ts';
import { happenedAt } from './times.ts';

/** Trace both ways, exercises of a recall, and who answers for the product. */
const traceRoutes = (model: ShedModel): Handlers<'trace' | 'recallExercises' | 'exerciseRecall' | 'producer' | 'setProducer'> => ({
  trace: ({ query, user }) => {
    if (user.role !== 'inspector') return traceShape(model, query);
    // An inspector asks from a lot that was named, and from nothing else.
    const { lot } = readableBatch(model, user, query.lot ?? Object.values(query).find((value) => value !== undefined) ?? '');
    noteLook(model, user, lot, 'trace');
    return traceShape(model, { lot });
  },
  recallExercises: () => ({ exercises: [...model.shed().recallExercises].reverse().map(exerciseShape) }),
  exerciseRecall: ({ body, key, user }) => {
    const written = exerciseBefore(model, key);
    if (written !== null) return exerciseShape(written);
    const { of, walk, tookMs } = walkOf(model, body);
    const endedAt = model.clock.now();
    const startedAt = body.startedAt === undefined ? endedAt : Math.min(endedAt, happenedAt('startedAt', body.startedAt, endedAt));
    const exercise: RecallExercise = {
      number: model.shed().recallExercises.length + 1,
      of: { kind: of.kind === 'lot' ? 'lot' : 'ingredient', id: of.id },
      startedAt: toRfc3339(startedAt),
      endedAt: toRfc3339(endedAt),
      minutes: Math.round(((endedAt - startedAt) / minuteMs) * 10) / 10,
      tookMs,
      result: recallOf(model.shed(), walk, endedAt),
      ...(body.gaps !== undefined && { gaps: body.gaps }),
      ...(body.action !== undefined && { action: body.action }),
      ...(key !== null && { key }),
    };
    model.write([{ who: byUser(user.name), kind: 'recall-exercise', body: exercise }]);
    return exerciseShape(exercise);
  },
  producer: () => ({ producer: producerShape(model), note: labelNote }),
  setProducer: ({ body, user }) => {
    model.write([{ who: byUser(user.name), kind: 'producer-set', body }]);
    return { producer: producerShape(model), note: labelNote };
  },
});

/** The exercise the same sender wrote under this key before; null: none. */
const exerciseBefore = (model: ShedModel, key: string | null): RecallExercise | null => {
  const sequence = key === null ? null : sequenceOfKey(model.shed().writtenKeys, key);
  if (sequence === null) return null;
  const found = model.shed().recallExercises.find((each) => each.key === key);
  if (found === undefined) throw new ApiError('key-used', `The key ${key ?? ''} marks entry ${sequence}, which is another act. Nothing was written.`);
  return found;
};

const producerShape = (model: ShedModel) => {
  const { producer } = model.shed();
  return producer === null ? null : { ...producer, weights: [...producer.weights] };
};

const exerciseShape = ({ key: _key, result, ...rest }: RecallExercise): Shape => ({
  ...rest,
  result: { ...result, lots: [...result.lots], buyers: [...result.buyers], inDrums: [...result.inDrums], sources: [...result.sources] },
});

export const mountTrace = (router: Router, model: ShedModel, userOf: UserOf): void => {
  mount(router, traceRoutes(model), userOf);
  router.get('/recall-exercises/:number.pdf', recallPaperOf(model, userOf));
};

const recallPaperOf = (model: ShedModel, userOf: UserOf): RequestHandler => async (request, response) => {
  allow(userOf(request), ['owner', 'helper']);
  const number = String(request.params.number ?? '');
  const exercise = model.shed().recallExercises.find((each) => String(each.number) === number);
  if (exercise === undefined) throw notFound(`recall exercise ${number}`);
  const pdf = await recallPaper(exercise, { site: model.shed().site?.name ?? '', producer: model.shed().producer?.name ?? null, zone: model.zone, printedAt: model.clock.now() });
  response.type('application/pdf').set('content-disposition', `inline; filename="recall-exercise-${number}-${toRfc3339(fromRfc3339(exercise.endedAt)).slice(0, 10)}.pdf"`).send(pdf);
};
