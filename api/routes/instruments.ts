import type { InstrumentAdded } from '#domain/journal/check-entries.ts';
import { byUser } from '#domain/journal/entry.ts';
import { inDoubt } from '#domain/calibration/in-doubt.ts';
import { ApiError, notFound, unfit } from '../errors.ts';
import { checkSettingViews, instrumentViews } from '../shed/instrument-view.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import type { Handlers } from './mount.ts';

/** Instruments, their checks, and what is decided after a failed one. */
export const instrumentRoutes = (model: ShedModel): Handlers<'instruments' | 'addInstrument' | 'decideDoubt' | 'checkSettings' | 'setCheckSettings'> => {
  const view = (id: string) => {
    const found = instrumentViews(model).find((instrument) => instrument.id === id);
    if (found === undefined) throw notFound(`instrument ${id}`);
    return found;
  };
  return {
    instruments: () => ({ instruments: instrumentViews(model) }),
    addInstrument: ({ body, user }) => {
      if (model.shed().instruments.has(body.id)) throw new ApiError('already-exists', `The instrument ${body.id} is there already. Nothing was written.`);
      model.write([{ who: byUser(user.name), kind: 'instrument-added', body: body as InstrumentAdded }]);
      return view(body.id);
    },
    decideDoubt: ({ params, body, user }) => {
      const instrument = params.instrument ?? '';
      const { check, lot, decision, reason } = body;
      const doubt = inDoubt(model.shed(), view(instrument).id, model.clock.now()).find((each) => each.check === check);
      if (doubt === undefined) throw unfit('check', `entry ${String(check)} is no failed check of ${instrument}`);
      if (!doubt.lots.some((each) => each.lot === lot)) throw unfit('lot', `nothing of lot ${lot} was measured with ${instrument} in that time`);
      model.write([{ who: byUser(user.name), kind: 'doubt-decided', body: { instrument, check, lot, decision, reason } }]);
      return view(instrument);
    },
    checkSettings: () => ({ settings: checkSettingViews(model.shed()) }),
    setCheckSettings: ({ body, user }) => {
      if (Object.keys(body).length > 0) model.write([{ who: byUser(user.name), kind: 'checks-set', body: { change: body } }]);
      return { settings: checkSettingViews(model.shed()) };
    },
  };
};
