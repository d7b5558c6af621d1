import { signal, type ReadonlySignal } from '@preact/signals';
import type { LiveHandlers, LiveMessage } from '../client/live.ts';

/** The one stream of this screen, shared by all that listens, and whether what is shown may be called live. */
export type Connection = { readonly state: 'connecting' } | { readonly state: 'live' } | { readonly state: 'lost'; readonly heardAt: number | null };

export interface Link {
  readonly connection: ReadonlySignal<Connection>;
  /** Messages the contract did not know: a sign of a newer server. */
  readonly unfit: ReadonlySignal<number>;
  readonly listen: (listener: (message: LiveMessage) => void) => () => void;
  /** Called each time the stream is there again after it was lost. */
  readonly onRegained: (run: () => void) => () => void;
  readonly start: () => void;
  readonly stop: () => void;
}

/** `now`: the clock of the shed, so that `since` is told in the shed's own time. */
export const createLink = (open: (handlers: LiveHandlers) => () => void, now: () => number): Link => {
  const connection = signal<Connection>({ state: 'connecting' });
  const unfit = signal(0);
  const listeners = new Set<(message: LiveMessage) => void>();
  const regained = new Set<() => void>();
  let close: (() => void) | null = null;

  const add = <Item>(set: Set<Item>, item: Item): (() => void) => {
    set.add(item);
    return () => set.delete(item);
  };

  return {
    connection,
    unfit,
    listen: (listener) => add(listeners, listener),
    onRegained: (run) => add(regained, run),
    start: () => {
      close ??= open({
        message: (message) => {
          for (const listener of listeners) listener(message);
        },
        state: (state, silentForMs) => {
          const before = connection.value.state;
          if (state === 'lost') connection.value = { state, heardAt: silentForMs === null ? null : now() - silentForMs };
          else if (before !== 'live') {
            connection.value = { state };
            if (before === 'lost') for (const run of regained) run();
          }
        },
        unfit: () => {
          unfit.value += 1;
        },
      });
    },
    stop: () => {
      close?.();
      close = null;
      connection.value = { state: 'connecting' };
    },
  };
};
