import { signal, type ReadonlySignal } from '@preact/signals';
import type { PlanInput, Season, SeasonPlan } from '#contract';
import type { Call, Failure } from '../../client/call.ts';

export interface TreeLoadTyped {
  readonly tree: string;
  readonly year: number;
  readonly kg?: number;
  readonly load?: 0 | 1 | 2 | 3;
}

/** A season and the plan of the next one; a slower, older answer never undoes a newer one. */
export interface SeasonModel {
  readonly season: ReadonlySignal<Season | null>;
  readonly plan: ReadonlySignal<SeasonPlan | null>;
  readonly failure: ReadonlySignal<Failure | null>;
  /** What the plan was refused for. */
  readonly refused: ReadonlySignal<Failure | null>;
  readonly load: (year: number | null) => Promise<void>;
  readonly ask: (input: PlanInput) => Promise<void>;
  readonly writeLoad: (load: TreeLoadTyped) => Promise<Failure | null>;
}

export const createSeason = (call: Call): SeasonModel => {
  const season = signal<Season | null>(null);
  const plan = signal<SeasonPlan | null>(null);
  const failure = signal<Failure | null>(null);
  const refused = signal<Failure | null>(null);
  let asked = 0;
  let planned = 0;
  return {
    season,
    plan,
    failure,
    refused,
    load: async (year) => {
      const mine = ++asked;
      const answer = await call('season', year === null ? {} : { query: { year } });
      if (mine !== asked) return;
      failure.value = answer.ok ? null : answer.error;
      if (answer.ok) season.value = answer.value;
    },
    ask: async (input) => {
      const mine = ++planned;
      const answer = await call('planSeason', { body: input });
      if (mine !== planned) return;
      refused.value = answer.ok ? null : answer.error;
      if (answer.ok) plan.value = answer.value;
    },
    writeLoad: async (load) => {
      const answer = await call('writeTreeLoad', { body: load });
      if (!answer.ok) return answer.error;
      if (season.value !== null) season.value = { ...season.value, trees: answer.value.trees };
      return null;
    },
  };
};
