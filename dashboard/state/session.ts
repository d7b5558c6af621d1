import { computed, signal, type ReadonlySignal } from '@preact/signals';
import type { Session } from '#contract';
import type { Answered, Call, Failure } from '../client/call.ts';

/** Who is signed in at this screen, and what that person may do. */
export interface SessionModel {
  readonly session: ReadonlySignal<Session | null>;
  readonly failure: ReadonlySignal<Failure | null>;
  readonly mayWork: ReadonlySignal<boolean>;
  readonly isOwner: ReadonlySignal<boolean>;
  readonly load: () => Promise<void>;
  readonly signIn: (name: string, password: string) => Promise<Answered<'session'>>;
  readonly setUp: (code: string, password: string) => Promise<Answered<'session'>>;
  readonly signOut: () => Promise<void>;
  /** The server no longer knows this session. */
  readonly lapse: () => void;
}

export const createSession = (call: Call): SessionModel => {
  const session = signal<Session | null>(null);
  const failure = signal<Failure | null>(null);
  const role = computed(() => session.value?.user?.role ?? null);
  const take = (answer: Answered<'session'>): Answered<'session'> => {
    if (answer.ok) session.value = answer.value;
    return answer;
  };
  return {
    session,
    failure,
    mayWork: computed(() => role.value === 'owner' || role.value === 'helper'),
    isOwner: computed(() => role.value === 'owner'),
    load: async () => {
      const answer = take(await call('session'));
      failure.value = answer.ok ? null : answer.error;
    },
    signIn: async (name, password) => take(await call('signIn', { body: { name, password } })),
    setUp: async (code, password) => take(await call('setUp', { body: { code, password } })),
    signOut: async () => {
      await call('signOut');
      const answer = await call('session');
      session.value = answer.ok ? answer.value : { user: null, setUpNeeded: false, demo: null };
    },
    lapse: () => {
      if (session.value?.user) session.value = { ...session.value, user: null };
    },
  };
};
