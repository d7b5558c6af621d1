import { computed, signal, type ReadonlySignal } from '@preact/signals';
import type { BatchDetail, Drum, NewEntry, StoryEntry } from '#contract';
import type { Call, Failure } from '../client/call.ts';
import type { LiveMessage } from '../client/live.ts';
import { withAlert } from './alerts.ts';
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
  /** Writes an act. Where it is what the open task asks for, the task is done by it. */
  readonly write: (entry: NewEntry) => Promise<{ readonly ok: true; readonly entry: StoryEntry | null } | { readonly ok: false; readonly error: Failure }>;
  readonly finish: (task: string) => Promise<Failure | null>;
  readonly skip: (task: string, reason: string) => Promise<Failure | null>;
  readonly acknowledge: (alert: string) => Promise<Failure | null>;
}

export const createDrum = (id: string, call: Call): DrumModel => {
  const drum = signal<Drum | null>(null);
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
    write: async (entry) => {
      const lot = batch.value?.lot ?? drum.value?.batch?.lot ?? '';
      const task = drum.value?.nextTask ?? null;
      if (task !== null && settles(task, entry)) {
        const answer = await call('finishTask', { params: { id: task.id }, body: entry });
        if (answer.ok) {
          await load();
          return { ok: true, entry: answer.value.entry };
        }
        // Somebody else may have settled the task meanwhile; the act itself still happened.
        if (answer.error.code !== 'not-found' && answer.error.code !== 'wrong-state') return answer;
      }
      const answer = await call('addEntry', { params: { lot }, body: entry });
      if (!answer.ok) return answer;
      await load();
      return { ok: true, entry: answer.value };
    },
    finish: async (task) => {
      const answer = await call('finishTask', { params: { id: task }, body: {} });
      if (!answer.ok) return answer.error;
      await load();
      return null;
    },
    skip: async (task, reason) => {
      const answer = await call('skipTask', { params: { id: task }, body: { reason } });
      if (!answer.ok) return answer.error;
      await load();
      return null;
    },
    acknowledge: async (alert) => {
      const answer = await call('acknowledge', { params: { id: alert }, body: {} });
      if (!answer.ok) return answer.error;
      if (drum.value !== null) drum.value = { ...drum.value, alerts: withAlert(drum.value.alerts, answer.value) };
      return null;
    },
  };
};
