import { signal, type ReadonlySignal } from '@preact/signals';
import type { Alert, AlertMeasures, Result, RouteAnswer } from '#contract';
import type { Call, Failure } from '../client/call.ts';

export type OutOfService = RouteAnswer<'outOfService'>['outOfService'][number];

/** Alerts as their screen shows them; each act is followed by a fresh look. A slower, older answer never undoes a newer one. */
export interface AlertScreen {
  readonly open: ReadonlySignal<readonly Alert[] | null>;
  readonly past: ReadonlySignal<readonly Alert[] | null>;
  readonly outOfService: ReadonlySignal<readonly OutOfService[]>;
  readonly measures: ReadonlySignal<AlertMeasures | null>;
  readonly failure: ReadonlySignal<Failure | null>;
  readonly load: () => Promise<void>;
  readonly loadPast: () => Promise<void>;
  readonly loadMeasures: (days: number) => Promise<void>;
  readonly acknowledge: (id: string) => Promise<Failure | null>;
  readonly shelve: (id: string, minutes: number, reason: string) => Promise<Failure | null>;
  readonly unshelve: (id: string) => Promise<Failure | null>;
  readonly writeAction: (id: string, text: string, disposition: string) => Promise<Failure | null>;
  readonly stopJudging: (drum: string, limit: string, reason: string) => Promise<Failure | null>;
  readonly judgeAgain: (drum: string, limit: string) => Promise<Failure | null>;
}

export const createAlertScreen = (call: Call): AlertScreen => {
  const open = signal<readonly Alert[] | null>(null);
  const past = signal<readonly Alert[] | null>(null);
  const outOfService = signal<readonly OutOfService[]>([]);
  const measures = signal<AlertMeasures | null>(null);
  const failure = signal<Failure | null>(null);
  let asked = 0;

  const load = async (): Promise<void> => {
    asked += 1;
    const mine = asked;
    const [alerts, aside] = await Promise.all([call('alerts', { query: { state: 'active', limit: 500 } }), call('outOfService')]);
    if (mine !== asked) return;
    failure.value = alerts.ok ? (aside.ok ? null : aside.error) : alerts.error;
    if (alerts.ok) open.value = alerts.value.alerts;
    if (aside.ok) outOfService.value = aside.value.outOfService;
  };
  const taken = async (act: Promise<Result<unknown, Failure>>): Promise<Failure | null> => {
    const answer = await act;
    if (!answer.ok) return answer.error;
    await load();
    return null;
  };

  return {
    open,
    past,
    outOfService,
    measures,
    failure,
    load,
    loadPast: async () => {
      const answer = await call('alerts', { query: { state: 'normal', limit: 200 } });
      failure.value = answer.ok ? null : answer.error;
      if (answer.ok) past.value = answer.value.alerts;
    },
    loadMeasures: async (days) => {
      const answer = await call('alertMeasures', { query: { days } });
      failure.value = answer.ok ? null : answer.error;
      if (answer.ok) measures.value = answer.value;
    },
    acknowledge: (id) => taken(call('acknowledge', { params: { id }, body: {} })),
    shelve: (id, minutes, reason) => taken(call('shelve', { params: { id }, body: { minutes, reason } })),
    unshelve: (id) => taken(call('unshelve', { params: { id }, body: {} })),
    writeAction: (id, text, disposition) => taken(call('alertAction', { params: { id }, body: { text, ...(disposition === '' ? {} : { disposition }) } })),
    stopJudging: (drum, limit, reason) => taken(call('setOutOfService', { params: { drum, id: limit }, body: { reason } })),
    judgeAgain: (drum, limit) => taken(call('setInService', { params: { drum, id: limit } })),
  };
};
