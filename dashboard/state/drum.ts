import { computed, signal, type ReadonlySignal } from '@preact/signals';
import type { BatchDetail, Drum, NewEntry, Task } from '#contract';
import type { Call, Failure } from '../client/call.ts';
import type { LiveMessage } from '../client/live.ts';
import { withAlert } from './alerts.ts';
import type { KeptWhat } from './kept.ts';
import type { Outcome, Queue } from './queue.ts';
import { settles } from './task-act.ts';

/** One drum with the batch in it: fetched, kept current by live messages, and written to. */
export interface DrumModel {
  readonly drum: ReadonlySignal<Drum | null>;
  readonly batch: ReadonlySignal<BatchDetail | null>;
  readonly failure: ReadonlySignal<Failure | null>;
  /** Grows when readings or marks may have changed, so that the chart knows to look again. */
  readonly turn: ReadonlySignal<number>;
  readonly load: () => Promise<void>;
  readonly take: (message: LiveMessage) => void;
  /** Writes an act, or keeps it until there is a connection. Where it is what the open task asks for, the task is done by it. */
  readonly write: (entry: NewEntry) => Promise<Outcome>;
  readonly finish: (task: Task) => Promise<Outcome>;
  readonly skip: (task: Task, reason: string) => Promise<Outcome>;
  readonly acknowledge: (alert: string) => Promise<Failure | null>;
}

/** `fromWall`: what the wall knows of the drum, for a page that is opened without a connection. */
export const createDrum = (id: string, call: Call, queue: Pick<Queue, 'submit'>, fromWall: Drum | null = null): DrumModel => {
  const drum = signal<Drum | null>(fromWall);
  const batch = signal<BatchDetail | null>(null);
  const failure = signal<Failure | null>(null);
  const turn = signal(0);
  let asked = 0;

  const loadBatch = async (lot: string | null): Promise<void> => {
    if (lot === null) {
      batch.value = null;
      return;
    }
    const answer = await call('batch', { params: { lot } });
    if (answer.ok) batch.value = answer.value;
    else failure.value = answer.error;
  };

  const load = async (): Promise<void> => {
    asked += 1;
    const mine = asked;
    const answer = await call('drum', { params: { drum: id } });
    if (mine !== asked) return;
    failure.value = answer.ok ? null : answer.error;
    if (!answer.ok) return;
    drum.value = answer.value;
    await loadBatch(answer.value.batch?.lot ?? null);
    turn.value += 1;
  };

  const submit = async (task: string | null, what: KeptWhat): Promise<Outcome> => {
    const { name = id, batch: inIt = null } = drum.value ?? {};
    const outcome = await queue.submit({ drum: id, drumName: name, lot: batch.value?.lot ?? inIt?.lot ?? '', task, what });
    if (outcome.state === 'sent') await load();
    return outcome;
  };

  return {
    drum,
    batch,
    failure,
    turn: computed(() => turn.value),
    load,
    take: (message) => {
      const known = drum.value;
      if (message.name === 'drum' && message.data.id === id) {
        const grown = known === null || known.revision !== message.data.revision;
        drum.value = message.data;
        if (grown) void load();
      } else if (message.name === 'alert' && message.data.drum === id && known !== null) {
        drum.value = { ...known, alerts: withAlert(known.alerts, message.data) };
      }
    },
    write: (entry) => {
      const task = drum.value?.nextTask ?? null;
      return submit(task !== null && settles(task, entry) ? task.id : null, { kind: 'act', entry });
    },
    finish: ({ id: task, title }) => submit(task, { kind: 'finish', title }),
    skip: ({ id: task, title }, reason) => submit(task, { kind: 'skip', title, reason }),
    acknowledge: async (alert) => {
      const answer = await call('acknowledge', { params: { id: alert }, body: {} });
      if (!answer.ok) return answer.error;
      if (drum.value !== null) drum.value = { ...drum.value, alerts: withAlert(drum.value.alerts, answer.value) };
      return null;
    },
  };
};
