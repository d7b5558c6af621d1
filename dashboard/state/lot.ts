import { signal, type ReadonlySignal } from '@preact/signals';
import type { BatchDetail, NewEntry, Task } from '#contract';
import type { Call, Failure } from '../client/call.ts';
import type { LiveMessage } from '../client/live.ts';
import type { KeptWhat } from './kept.ts';
import type { Outcome, Queue } from './queue.ts';
import { settles } from './task-act.ts';

/** One lot, whether in its drum or in jars: fetched, kept current, and written to. */
export interface LotModel {
  readonly batch: ReadonlySignal<BatchDetail | null>;
  readonly failure: ReadonlySignal<Failure | null>;
  readonly load: () => Promise<void>;
  readonly take: (message: LiveMessage) => void;
  /** `tasks`: those of the lot that are open; the one this act is asked for by is done with it. */
  readonly write: (entry: NewEntry, tasks: readonly Task[], drumName: string) => Promise<Outcome>;
  readonly settle: (task: Task, what: KeptWhat, drumName: string) => Promise<Outcome>;
}

export const createLot = (lot: string, call: Call, queue: Pick<Queue, 'submit'>): LotModel => {
  const batch = signal<BatchDetail | null>(null);
  const failure = signal<Failure | null>(null);
  let asked = 0;
  const load = async (): Promise<void> => {
    asked += 1;
    const mine = asked;
    const answer = await call('batch', { params: { lot } });
    if (mine !== asked) return;
    failure.value = answer.ok ? null : answer.error;
    if (answer.ok) batch.value = answer.value;
  };
  const submit = async (task: string | null, what: KeptWhat, drumName: string): Promise<Outcome> => {
    const outcome = await queue.submit({ drum: batch.value?.drum ?? '', drumName, lot: batch.value?.lot ?? lot, task, what });
    if (outcome.state === 'sent') await load();
    return outcome;
  };
  return {
    batch,
    failure,
    load,
    take: (message) => {
      if (message.name === 'drum' && message.data.id === batch.value?.drum) void load();
    },
    write: (entry, tasks, drumName) => submit(tasks.find((task) => settles(task, entry))?.id ?? null, { kind: 'act', entry }, drumName),
    settle: (task, what, drumName) => submit(task.id, what, drumName),
  };
};
