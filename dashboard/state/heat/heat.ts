import { signal, type ReadonlySignal } from '@preact/signals';
import type { AirForecast, HeatPlan } from '#contract';
import type { Call, Failure } from '../../client/call.ts';

/** The heat plan, and what somebody types of the air of the days ahead; a slower, older answer never undoes a newer one. */
export interface HeatModel {
  readonly plan: ReadonlySignal<HeatPlan | null>;
  readonly failure: ReadonlySignal<Failure | null>;
  readonly load: () => Promise<void>;
  readonly setAir: (day: AirForecast) => Promise<Failure | null>;
}

export const createHeat = (call: Call): HeatModel => {
  const plan = signal<HeatPlan | null>(null);
  const failure = signal<Failure | null>(null);
  let asked = 0;
  const load = async (): Promise<void> => {
    const mine = ++asked;
    const answer = await call('heatPlan');
    if (mine !== asked) return;
    failure.value = answer.ok ? null : answer.error;
    if (answer.ok) plan.value = answer.value;
  };
  return {
    plan,
    failure,
    load,
    setAir: async (day) => {
      const answer = await call('setAirForecast', { body: day });
      if (!answer.ok) return answer.error;
      await load();
      return null;
    },
  };
};
