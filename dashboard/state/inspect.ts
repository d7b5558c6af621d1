import { signal, type ReadonlySignal } from '@preact/signals';
import type { RecordList } from '#contract';
import type { Answered, Call, Failure } from '../client/call.ts';
import type { SessionModel } from './session.ts';

/** What somebody outside sees: the lots a code opens, or the question for a code. */
export interface InspectModel {
  readonly list: ReadonlySignal<RecordList | null>;
  readonly asking: ReadonlySignal<boolean>;
  readonly failure: ReadonlySignal<Failure | null>;
  /** Once: with the code of a link, or with who is inside already. Somebody of the shed who follows a link stays who they are. */
  readonly begin: (code: string) => Promise<void>;
  readonly open: (code: string) => Promise<void>;
  readonly leave: () => Promise<void>;
}

export const createInspect = (call: Call, session: Pick<SessionModel, 'session' | 'load' | 'signOut'>): InspectModel => {
  const list = signal<RecordList | null>(null);
  const asking = signal(false);
  const failure = signal<Failure | null>(null);
  let begun = false;
  const take = (answer: Answered<'records'>): void => {
    list.value = answer.ok ? answer.value : null;
    asking.value = !answer.ok;
    failure.value = answer.ok || answer.error.code === 'not-signed-in' ? null : answer.error;
  };
  const open = async (code: string): Promise<void> => {
    const answer = await call('openInspection', { body: { code } });
    take(answer);
    if (answer.ok) await session.load();
  };
  return {
    list,
    asking,
    failure,
    open,
    begin: async (code) => {
      if (begun) return;
      begun = true;
      const role = session.session.peek()?.user?.role ?? null;
      if (code !== '' && (role === null || role === 'inspector')) await open(code);
      else take(await call('records'));
    },
    leave: async () => {
      await session.signOut();
      list.value = null;
      asking.value = true;
    },
  };
};
