import { signal, type ReadonlySignal } from '@preact/signals';
import type { Probe, ProbeHealth } from '#contract';
import type { Call, Failure } from '../../client/call.ts';

/** Every probe with what it says, and what its readings say about itself. */
export interface ProbesModel {
  readonly probes: ReadonlySignal<readonly ProbeSeen[] | null>;
  readonly failure: ReadonlySignal<Failure | null>;
  readonly load: () => Promise<void>;
  /** The values alone: often, while somebody looks. */
  readonly refresh: () => Promise<void>;
}

export interface ProbeSeen extends Probe {
  readonly about: ProbeHealth;
  /** What its readings say about it is known; until then nothing is green. */
  readonly isJudged: boolean;
}

const unknownHealth = (id: string): ProbeHealth => ({ id, signs: [], electrode: null, icePointOffC: null, intervalS: null, isFromFile: false, placements: [] });

export const createProbes = (call: Call): ProbesModel => {
  const list = signal<readonly Probe[] | null>(null);
  const probes = signal<readonly ProbeSeen[] | null>(null);
  const failure = signal<Failure | null>(null);
  let health: readonly ProbeHealth[] = [];
  const join = (): void => {
    probes.value = list.value?.map((probe) => {
      const about = health.find(({ id }) => id === probe.id);
      return { ...probe, about: about ?? unknownHealth(probe.id), isJudged: about !== undefined };
    }) ?? null;
  };
  const refresh = async (): Promise<void> => {
    const answer = await call('probes');
    failure.value = answer.ok ? null : answer.error;
    if (answer.ok) list.value = answer.value.probes;
    join();
  };
  return {
    probes,
    failure,
    refresh,
    load: async () => {
      const [, about] = await Promise.all([refresh(), call('probeHealths')]);
      if (about.ok) health = about.value.probes;
      join();
    },
  };
};
