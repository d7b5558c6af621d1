import { hasTransition } from '#domain/rules/alert-state.ts';
import type { Alert } from '#domain/rules/alert.ts';
import { byUser } from '#domain/journal/entry.ts';
import { ApiError, notFound } from '../errors.ts';
import { pastAlerts } from '../shed/batch-view.ts';
import { alertShape } from '../shed/shape.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import type { Handlers } from './mount.ts';

export const alertRoutes = (model: ShedModel): Handlers<'alerts' | 'acknowledge'> => ({
  alerts: ({ query }) => {
    const { openAlerts, pastAlerts: past } = model.shed();
    const open = [...openAlerts.values()].sort((one, other) => other.raisedAt - one.raisedAt);
    const wanted = query.state === 'active' ? open : query.state === 'all' ? [...open, ...pastAlerts(past)] : query.state === 'normal' ? [...pastAlerts(past)] : open.filter(({ state }) => state === query.state);
    return { alerts: wanted.slice(0, query.limit).map(alertShape) };
  },
  acknowledge: ({ params, user }) => {
    const id = params.id ?? '';
    const find = (): Alert => {
      const { openAlerts, pastAlerts: past } = model.shed();
      const alert = openAlerts.get(id) ?? pastAlerts(past).find((candidate) => candidate.id === id);
      if (alert === undefined) throw notFound(`alert ${id}`);
      return alert;
    };
    const { state } = find();
    // Twice said is once said: two people may press at the same time, and what is back to normal needs nobody any more.
    const isSettled = state === 'acknowledged' || state === 'normal';
    if (!isSettled && !hasTransition(state, 'acknowledge')) throw new ApiError('wrong-state', `The alert is ${state}; it cannot be acknowledged now.`);
    if (!isSettled) model.write([{ who: byUser(user.name), kind: 'alert-acknowledged', body: { id } }]);
    return alertShape(find());
  },
});
