import { signal, type ReadonlySignal } from '@preact/signals';
import type { Compare, ComparePair } from '#contract';
import type { Call, Failure } from '../../client/call.ts';

/** Finished cures in groups, and two of them side by side; a slower, older answer never undoes a newer one. */
export interface CompareModel {
  readonly compare: ReadonlySignal<Compare | null>;
  readonly pair: ReadonlySignal<ComparePair | null>;
  readonly failure: ReadonlySignal<Failure | null>;
  readonly load: (bitterness: number) => Promise<void>;
  readonly loadPair: (lot: string, other: string, bitterness: number) => Promise<void>;
}

export const createCompare = (call: Call): CompareModel => {
  const compare = signal<Compare | null>(null);
  const pair = signal<ComparePair | null>(null);
  const failure = signal<Failure | null>(null);
  let asked = 0;
  let askedPair = 0;
  return {
    compare,
    pair,
    failure,
    load: async (bitterness) => {
      const mine = ++asked;
      const answer = await call('compare', { query: { bitterness } });
      if (mine !== asked) return;
      failure.value = answer.ok ? null : answer.error;
      if (answer.ok) compare.value = answer.value;
    },
    loadPair: async (lot, other, bitterness) => {
      const mine = ++askedPair;
      const answer = await call('comparePair', { params: { lot, other }, query: { bitterness } });
      if (mine !== askedPair) return;
      failure.value = answer.ok ? null : answer.error;
      pair.value = answer.ok ? answer.value : null;
    },
  };
};
