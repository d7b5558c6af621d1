import { closingOf, isOpen, type Deviation } from '#domain/deviation/deviation.ts';
import { deviationsOfLot } from '#domain/deviation/of-lot.ts';
import { byUser } from '#domain/journal/entry.ts';
import { toRfc3339 } from '#domain/units/time.ts';
import { ApiError, notFound, unfit } from '../errors.ts';
import { deviationShape, recallShape } from '../shed/deviation-view.ts';
import { findBatch } from '../shed/find-code.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import type { Handlers } from './mount.ts';
import { happenedAt } from './times.ts';

/** The log of departures from critical limits, and lots called back. */
export const deviationRoutes = (model: ShedModel): Handlers<'deviations' | 'deviationAction' | 'closeDeviation' | 'recallLot' | 'recalls'> => {
  const find = (number: string): Deviation => {
    const found = model.shed().deviations.find((each) => each.number.toLowerCase() === number.toLowerCase());
    if (found === undefined) throw notFound(`deviation ${number}`);
    return found;
  };
  const shown = (number: string) => deviationShape(find(number), model.shed());
  return {
    deviations: ({ query }) => {
      const of = query.lot === undefined ? model.shed().deviations : deviationsOfLot(model.shed(), findBatch(model, query.lot));
      const wanted = query.state === 'all' ? of : of.filter((each) => isOpen(each) === (query.state === 'open'));
      return { deviations: wanted.toReversed().map((each) => deviationShape(each, model.shed())) };
    },
    deviationAction: ({ params, body, user }) => {
      const { number } = find(params.number ?? '');
      model.write([{ who: byUser(user.name), kind: 'deviation-action', body: { deviation: number, text: body.text } }]);
      return shown(number);
    },
    closeDeviation: ({ params, body, user }) => {
      const deviation = find(params.number ?? '');
      if (deviation.to === null && body.disposition !== 'destroyed') throw new ApiError('wrong-state', `${deviation.number} is not over: the lot is still outside the limit. Write down what is done meanwhile. Nothing was closed.`);
      // Only a person who can judge it may clear product that departed from its limit (21 CFR 114.89).
      if (body.disposition === 'released' && body.evaluation === undefined) throw unfit('evaluation', 'is needed where the product is released: who judged it, with what competence, and what was found');
      const before = closingOf(deviation);
      if (before !== null && before.disposition === body.disposition && before.cause === body.cause && before.action === body.action && before.name === body.by) return shown(deviation.number);
      const { prevention, evaluation, ...rest } = body;
      model.write([{ who: byUser(user.name), kind: 'deviation-closed', body: { deviation: deviation.number, ...rest, ...(prevention !== undefined && { prevention }), ...(evaluation !== undefined && { evaluation }) } }]);
      return shown(deviation.number);
    },
    recallLot: ({ params, body, user }) => {
      const { lot } = findBatch(model, params.lot ?? '');
      const now = model.clock.now();
      const at = body.at === undefined ? now : Math.min(happenedAt('at', body.at, now), now);
      if (model.shed().recalls.some((recall) => recall.lot === lot)) throw new ApiError('recalled', `Lot ${lot} is recalled already. Nothing was written.`);
      model.write([{ who: byUser(user.name), kind: 'recalled', body: { lot, at: toRfc3339(at), reason: body.reason } }]);
      const recall = model.shed().recalls.findLast((each) => each.lot === lot);
      if (recall === undefined) throw new Error(`the recall of lot ${lot} was written and is not there`);
      return recallShape(recall, model.shed(), now);
    },
    recalls: () => ({ recalls: model.shed().recalls.toReversed().map((recall) => recallShape(recall, model.shed(), model.clock.now())) }),
  };
};
