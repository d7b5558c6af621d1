import { signal, type ReadonlySignal } from '@preact/signals';
import type { BatchDetail } from '#contract';
import type { Call } from '../client/call.ts';

/** The stories of the batches in the shed, fetched ahead: a form is filled from last time also when the connection has gone since. */
export interface Stories {
  readonly batches: ReadonlySignal<ReadonlyMap<string, BatchDetail>>;
  /** `revision`: of the drum the batch is in; what is known at that revision is not fetched again. */
  readonly want: (lot: string, revision: number) => Promise<void>;
}

export const createStories = (call: Call): Stories => {
  const batches = signal<ReadonlyMap<string, BatchDetail>>(new Map());
  const known = new Map<string, number>();
  return {
    batches,
    want: async (lot, revision) => {
      if (known.get(lot) === revision) return;
      known.set(lot, revision);
      const answer = await call('batch', { params: { lot } });
      if (answer.ok) batches.value = new Map(batches.value).set(lot, answer.value);
      else if (known.get(lot) === revision) known.delete(lot);
    },
  };
};
