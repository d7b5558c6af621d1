import { useCallback, useEffect, useRef, useState } from 'preact/hooks';
import type { Answered, Failure } from '../client/call.ts';
import type { RouteName } from '#contract';
import { useScreen } from './screen.ts';

export interface Loaded<Value> {
  readonly value: Value | null;
  readonly failure: Failure | null;
  load(): Promise<void>;
}

/** What a screen shows, fetched when it opens, when the connection is back, and when asked; what was fetched last stays. */
export const useLoaded = <Name extends RouteName>(fetchIt: () => Promise<Answered<Name>>): Loaded<Extract<Answered<Name>, { readonly ok: true }>['value']> => {
  type Value = Extract<Answered<Name>, { readonly ok: true }>['value'];
  const { link } = useScreen();
  const [value, setValue] = useState<Value | null>(null);
  const [failure, setFailure] = useState<Failure | null>(null);
  const fetching = useRef(fetchIt);
  const load = useCallback(async () => {
    const answer = await fetching.current();
    setFailure(answer.ok ? null : answer.error);
    if (answer.ok) setValue(() => answer.value);
  }, []);
  useEffect(() => {
    void load();
    return link.onRegained(() => void load());
  }, [load, link]);
  return { value, failure, load };
};
