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
  /** False once this listener may no longer listen. */
  allowed(): boolean;
  end(): void;
  /** Ends at once, without waiting for what has not been taken. */
  cut(): void;
}

export type Snapshot = { [Name in LiveEventName]: { readonly name: Name; readonly data: LiveEvents[Name] } }[LiveEventName];

export interface Hub {
  send<Name extends LiveEventName>(name: Name, data: LiveEvents[Name]): void;
  /** Only while not full. `snapshot` is called when the listener cannot be caught up from memory. */
  join(listener: Listener, lastId: string | null, snapshot: () => Promise<readonly Snapshot[]>): Promise<void>;
  leave(listener: Listener): void;
  /** Keeps connections open, and ends those that are no longer allowed. */
  beat(): void;
  readonly isFull: boolean;
  readonly listeners: number;
  close(): void;
}

export const mostClients = 100;
export const mostRemembered = 500;
export const mostBehindBytes = 1_048_576;
const retryMs = 2_000;

/** `boot` makes ids of another run of the server unknown to this one. */
export const createHub = (boot: string): Hub => {
  const joined = new Set<Listener>();
  /** Those of the joined that have their snapshot; the others are sent what came meanwhile together with it. */
  const live = new Set<Listener>();
  const remembered: { readonly number: number; readonly text: string }[] = [];
  let number = 0;

  const idOf = (of: number): string => `${boot}-${of}`;
  const numberOf = (id: string | null): number | null => {
    const digits = id?.startsWith(`${boot}-`) === true ? id.slice(boot.length + 1) : '';
    return /^\d{1,15}$/.test(digits) ? Number(digits) : null;
  };
  const remembersAllAfter = (last: number): boolean => last <= number && last >= (remembered[0]?.number ?? number + 1) - 1;

  const leave = (listener: Listener): void => {
    joined.delete(listener);
    live.delete(listener);
  };
  const deliver = (listener: Listener, text: string): void => {
    if (listener.behind() <= mostBehindBytes) {
      listener.write(text);
      return;
    }
    leave(listener);
    listener.cut();
  };
  /** Only the last frame carries an id: whoever loses the connection before it has everything sent again. */
  const sendSnapshot = (listener: Listener, shown: readonly Snapshot[], at: number): void => {
    for (const [index, { name, data }] of shown.entries()) {
      listener.write(frame({ ...(index === shown.length - 1 ? { id: idOf(at) } : {}), event: name, data: JSON.stringify(data) }));
    }
  };

  return {
    send: (name, data) => {
      number += 1;
      const text = frame({ id: idOf(number), event: name, data: JSON.stringify(data) });
      remembered.push({ number, text });
      if (remembered.length > mostRemembered) remembered.shift();
      for (const listener of live) deliver(listener, text);
    },
    join: async (listener, lastId, snapshot) => {
      joined.add(listener);
      listener.write(retry(retryMs));
      let last = numberOf(lastId);
      if (last === null || !remembersAllAfter(last)) {
        last = number;
        const shown = await snapshot();
        if (!joined.has(listener)) return;
        sendSnapshot(listener, shown, last);
      }
      // So much has come while the snapshot was made that it cannot be said again: the client asks once more.
      if (!remembersAllAfter(last)) {
        leave(listener);
        listener.end();
        return;
      }
      for (const event of remembered) if (event.number > last) listener.write(event.text);
      live.add(listener);
    },
    leave,
    beat: () => {
      for (const listener of live) {
        if (listener.allowed()) deliver(listener, beat);
        else {
          leave(listener);
          listener.end();
        }
      }
    },
    get isFull() {
      return joined.size >= mostClients;
    },
    get listeners() {
      return joined.size;
    },
    close: () => {
      for (const listener of joined) listener.end();
      joined.clear();
      live.clear();
    },
  };
};
