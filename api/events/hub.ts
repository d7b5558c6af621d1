import type { LiveEventName, LiveEvents } from '#contract';
import { beat, frame, retry } from './frame.ts';

/**
 * The fan-out of live events. Each event carries the whole of what changed; the last few hundred are remembered so that a client
 * that was away for a moment catches up by its last id, and one that was away longer is sent everything once more.
 * Limits: `mostClients` listeners, `mostRemembered` events, `mostBehindBytes` unsent bytes per client (then it is cut off and comes back).
 */
export interface Listener {
  write(text: string): void;
  /** Bytes not yet taken by the network. */
  behind(): number;
  end(): void;
}

export interface Hub {
  send<Name extends LiveEventName>(name: Name, data: LiveEvents[Name]): void;
  /** False when there are too many. `snapshot` is called when the listener cannot be caught up from memory. */
  join(listener: Listener, lastId: string | null, snapshot: () => Promise<readonly Snapshot[]>): Promise<boolean>;
  leave(listener: Listener): void;
  beat(): void;
  readonly listeners: number;
  readonly cutOff: number;
  close(): void;
}

export type Snapshot = { [Name in LiveEventName]: { readonly name: Name; readonly data: LiveEvents[Name] } }[LiveEventName];

export const mostClients = 100;
const mostRemembered = 500;
const mostBehindBytes = 1_048_576;
const retryMs = 2_000;

/** `boot` makes ids of another run of the server unknown to this one. */
export const createHub = (boot: string): Hub => {
  const listeners = new Set<Listener>();
  const remembered: { readonly number: number; readonly text: string }[] = [];
  let number = 0;
  let cutOff = 0;

  const idOf = (of: number): string => `${boot}-${of}`;
  const deliver = (listener: Listener, text: string): void => {
    if (listener.behind() > mostBehindBytes) {
      cutOff += 1;
      listeners.delete(listener);
      listener.end();
      return;
    }
    listener.write(text);
  };

  return {
    send: (name, data) => {
      number += 1;
      const text = frame({ id: idOf(number), event: name, data: JSON.stringify(data) });
      remembered.push({ number, text });
      if (remembered.length > mostRemembered) remembered.shift();
      for (const listener of listeners) deliver(listener, text);
    },
    join: async (listener, lastId, snapshot) => {
      if (listeners.size >= mostClients) return false;
      listener.write(retry(retryMs));
      const last = lastId?.startsWith(`${boot}-`) === true ? Number(lastId.slice(boot.length + 1)) : Number.NaN;
      const oldest = remembered[0]?.number ?? number + 1;
      if (last >= oldest - 1 && last <= number) {
        for (const { number: at, text } of remembered) if (at > last) listener.write(text);
        listeners.add(listener);
        return true;
      }
      // Joined first, so that nothing is missed while the snapshot is made; what comes twice does no harm.
      listeners.add(listener);
      for (const { name, data } of await snapshot()) deliver(listener, frame({ id: idOf(number), event: name, data: JSON.stringify(data) }));
      return true;
    },
    leave: (listener) => {
      listeners.delete(listener);
    },
    beat: () => {
      for (const listener of listeners) deliver(listener, beat);
    },
    get listeners() {
      return listeners.size;
    },
    get cutOff() {
      return cutOff;
    },
    close: () => {
      for (const listener of listeners) listener.end();
      listeners.clear();
    },
  };
};
