import type { Alert as AlertShape } from '#contract';
import { hasTransition, type AlertEvent } from '#domain/rules/alert-state.ts';
import { measureAlerts } from '#domain/rules/alert-measures.ts';
import type { Alert } from '#domain/rules/alert.ts';
import { byUser } from '#domain/journal/entry.ts';
import { dayMs, minuteMs, toRfc3339 } from '#domain/units/time.ts';
import { ApiError, notFound } from '../errors.ts';
import { pastAlerts } from '../shed/batch-view.ts';
import { alertShape } from '../shed/shape.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import type { Handlers } from './mount.ts';

type AlertRoutes = 'alerts' | 'acknowledge' | 'shelve' | 'unshelve' | 'alertAction' | 'alertMeasures';

export const alertRoutes = (model: ShedModel): Handlers<AlertRoutes> => {
  const find = (id: string): Alert => {
    const { openAlerts, pastAlerts: past } = model.shed();
    const alert = openAlerts.get(id) ?? pastAlerts(past).find((candidate) => candidate.id === id);
    if (alert === undefined) throw notFound(`alert ${id}`);
    return alert;
  };
  const shown = (id: string): AlertShape => alertShape(find(id), model.shed());
  const requireTransition = (id: string, event: AlertEvent, cannot: string): void => {
    const { state } = find(id);
    if (!hasTransition(state, event) || state === 'normal') throw new ApiError('wrong-state', `The alert is ${stateWords[state]}; ${cannot}. Nothing was changed.`);
  };

  return {
    alerts: ({ query }) => {
      const { openAlerts, pastAlerts: past } = model.shed();
      const open = [...openAlerts.values()].sort((one, other) => other.raisedAt - one.raisedAt);
      const wanted = query.state === 'active' ? open : query.state === 'all' ? [...open, ...pastAlerts(past)] : query.state === 'normal' ? [...pastAlerts(past)] : open.filter(({ state }) => state === query.state);
      return { alerts: wanted.slice(0, query.limit).map((alert) => alertShape(alert, model.shed())) };
    },
    alertMeasures: ({ query }) => {
      const { openAlerts, pastAlerts: past } = model.shed();
      const to = model.clock.now();
      const measures = measureAlerts([...openAlerts.values(), ...pastAlerts(past)], to - query.days * dayMs, to);
      return { ...measures, from: toRfc3339(measures.from), to: toRfc3339(to), chattering: [...measures.chattering], mostFrequent: [...measures.mostFrequent] };
    },
    acknowledge: ({ params, user }) => {
      const id = params.id ?? '';
      const { state } = find(id);
      // Twice said is once said: two people may press at the same time, and what is back to normal needs nobody any more.
      const isSettled = state === 'acknowledged' || state === 'normal';
      if (!isSettled) {
        requireTransition(id, 'acknowledge', 'it cannot be acknowledged now');
        model.write([{ who: byUser(user.name), kind: 'alert-acknowledged', body: { id } }]);
      }
      return shown(id);
    },
    shelve: ({ params, body, user }) => {
      const id = params.id ?? '';
      requireTransition(id, 'shelve', 'it cannot be put aside now');
      const until = toRfc3339(model.clock.now() + body.minutes * minuteMs);
      model.write([{ who: byUser(user.name), kind: 'alert-shelved', body: { id, until, reason: body.reason } }]);
      return shown(id);
    },
    unshelve: ({ params, user }) => {
      const id = params.id ?? '';
      requireTransition(id, 'unshelve', 'it is not on the shelf');
      model.write([{ who: byUser(user.name), kind: 'alert-unshelved', body: { id } }]);
      return shown(id);
    },
    alertAction: ({ params, body, user }) => {
      const id = params.id ?? '';
      find(id);
      const { text, disposition } = body;
      model.write([{ who: byUser(user.name), kind: 'alert-action', body: { id, text, ...(disposition === undefined ? {} : { disposition }) } }]);
      return shown(id);
    },
  };
};

const stateWords: Readonly<Record<Alert['state'], string>> = {
  normal: 'over', unacknowledged: 'standing', acknowledged: 'seen by somebody', returned: 'back inside and waits to be seen', shelved: 'on the shelf already', suppressed: 'suppressed', 'out-of-service': 'out of service',
};
