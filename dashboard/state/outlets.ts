import { signal, type ReadonlySignal } from '@preact/signals';
import type { Announced, Outlet, OutletRoute, RouteAnswer, SetOutlet } from '#contract';
import type { Call, Failure } from '../client/call.ts';

/** Who is told, by what way, and what was told last. */
export interface OutletsModel {
  readonly outlets: ReadonlySignal<readonly Outlet[] | null>;
  readonly announced: ReadonlySignal<readonly Announced[]>;
  readonly failure: ReadonlySignal<Failure | null>;
  /** Tests that are under way, by outlet: the entry that asked. */
  readonly testing: ReadonlySignal<ReadonlyMap<string, number>>;
  readonly load: () => Promise<void>;
  /** The key of a new webhook, to be shown once, or null. */
  readonly set: (id: string, body: SetOutlet) => Promise<{ readonly failure: Failure } | RouteAnswer<'setOutlet'>>;
  readonly setRoute: (id: string, route: OutletRoute) => Promise<Failure | null>;
  readonly remove: (id: string) => Promise<Failure | null>;
  readonly test: (id: string) => Promise<Failure | null>;
}

export const createOutlets = (call: Call): OutletsModel => {
  const outlets = signal<readonly Outlet[] | null>(null);
  const announced = signal<readonly Announced[]>([]);
  const failure = signal<Failure | null>(null);
  const testing = signal<ReadonlyMap<string, number>>(new Map());

  const load = async (): Promise<void> => {
    const answer = await call('outlets');
    failure.value = answer.ok ? null : answer.error;
    if (!answer.ok) return;
    outlets.value = answer.value.outlets;
    announced.value = answer.value.announced;
    const answered = [...testing.value].filter(([id, entry]) => !answer.value.announced.some((each) => each.outlet === id && each.what === 'test' && each.entry > entry));
    if (answered.length !== testing.value.size) testing.value = new Map(answered);
  };

  return {
    outlets,
    announced,
    failure,
    testing,
    load,
    set: async (id, body) => {
      const answer = await call('setOutlet', { params: { id }, body });
      if (!answer.ok) return { failure: answer.error };
      await load();
      return answer.value;
    },
    setRoute: async (id, route) => {
      const answer = await call('setOutletRoute', { params: { id }, body: route });
      if (!answer.ok) return answer.error;
      await load();
      return null;
    },
    remove: async (id) => {
      const answer = await call('removeOutlet', { params: { id } });
      if (!answer.ok) return answer.error;
      await load();
      return null;
    },
    test: async (id) => {
      const answer = await call('testOutlet', { params: { id }, body: {} });
      if (!answer.ok) return answer.error;
      testing.value = new Map(testing.value).set(id, answer.value.entry);
      await load();
      return null;
    },
  };
};

/** A name for the address of an outlet, from the name people gave it; told apart from those there are. */
export const outletId = (name: string, taken: readonly string[]): string => {
  const slug = name.normalize('NFKD').replaceAll(/\p{M}/gu, '').toLowerCase().replaceAll(/[^a-z0-9]+/g, '-').replaceAll(/^-|-$/g, '').slice(0, 30) || 'outlet';
  if (slug !== 'mqtt' && !taken.includes(slug)) return slug;
  for (let number = 2; ; number += 1) if (!taken.includes(`${slug}-${String(number)}`)) return `${slug}-${String(number)}`;
};
