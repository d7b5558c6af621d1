import { signal, type ReadonlySignal } from '@preact/signals';
import { fail, ok, type NewPick, type NewSorting, type Pick, type PickAmendment, type Result } from '#contract';
import type { Call, Failure } from '../client/call.ts';

/** The picks of the shed, newest first, and what is told of them. */
export interface PicksModel {
  readonly picks: ReadonlySignal<readonly Pick[] | null>;
  readonly failure: ReadonlySignal<Failure | null>;
  readonly load: () => Promise<void>;
  readonly add: (told: NewPick) => Promise<Result<Pick, Failure>>;
  readonly amend: (pick: string, told: PickAmendment) => Promise<Result<Pick, Failure>>;
  readonly sort: (pick: string, told: NewSorting) => Promise<Result<Pick, Failure>>;
}

/** `newKey`: marks what is sent, so that a lost answer makes no second pick. */
export const createPicks = (call: Call, newKey: () => string): PicksModel => {
  const picks = signal<readonly Pick[] | null>(null);
  const failure = signal<Failure | null>(null);
  // A pick whose answer was lost is sent again as the same pick.
  let begun: string | null = null;
  const kept = (answer: Result<Pick, Failure>): Result<Pick, Failure> => {
    if (!answer.ok) return fail(answer.error);
    const rest = (picks.value ?? []).filter(({ pick }) => pick !== answer.value.pick);
    picks.value = [answer.value, ...rest].sort((one, other) => (one.at < other.at ? 1 : -1));
    return ok(answer.value);
  };
  return {
    picks,
    failure,
    load: async () => {
      const answer = await call('picks');
      failure.value = answer.ok ? null : answer.error;
      if (answer.ok) picks.value = answer.value.picks;
    },
    add: async (body) => {
      begun ??= newKey();
      const answer = await call('addPick', { body, key: begun });
      if (answer.ok || answer.error.code !== 'unreachable') begun = null;
      return kept(answer);
    },
    amend: async (pick, body) => kept(await call('amendPick', { params: { pick }, body, key: newKey() })),
    sort: async (pick, body) => kept(await call('sortPick', { params: { pick }, body, key: newKey() })),
  };
};
