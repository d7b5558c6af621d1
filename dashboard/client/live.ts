import { liveEvents, livePath, type LiveEventName, type LiveEvents } from '#contract';

/**
 * The event stream. Every message is parsed by the contract; one that does not fit is counted and dropped.
 * A broken stream is resumed by the browser itself (`Last-Event-ID`); a refused or frozen one is opened anew with a growing pause.
 * A stream is frozen when nothing has come for `silentMs`: then nothing on screen may pass for live.
 */
export interface EventSourceLike {
  readonly readyState: number;
  addEventListener(name: string, listener: (event: { readonly data?: unknown }) => void): void;
  close(): void;
}

export interface LiveClock {
  readonly now: () => number;
  readonly after: (ms: number, run: () => void) => () => void;
}

export type LiveMessage = { [Name in LiveEventName]: { readonly name: Name; readonly data: LiveEvents[Name] } }[LiveEventName];

export interface LiveHandlers {
  readonly message: (message: LiveMessage) => void;
  /** `silentForMs`: how long ago the last sign of life came; null when there never was one. */
  readonly state: (state: 'live' | 'lost', silentForMs: number | null) => void;
  readonly unfit: (name: string) => void;
}

export const silentMs = 75_000;
export const graceMs = 4_000;
const closed = 2;
const firstPauseMs = 1_000;
const longestPauseMs = 15_000;

export const liveAddress = `/api${livePath}`;

const eventNames = Object.keys(liveEvents) as LiveEventName[];

export const openLive = (open: (address: string) => EventSourceLike, clock: LiveClock, handlers: LiveHandlers): (() => void) => {
  let source: EventSourceLike | null = null;
  let heardAt: number | null = null;
  let pauseMs = firstPauseMs;
  let stopped = false;
  let cancelGrace: (() => void) | null = null;
  let cancelWatch: (() => void) | null = null;
  let cancelReopen: (() => void) | null = null;

  const lose = (): void => {
    cancelGrace = null;
    handlers.state('lost', heardAt === null ? null : clock.now() - heardAt);
  };

  /** A short hiccup is not worth a changed wall; a longer one is. */
  const doubt = (): void => {
    cancelGrace ??= clock.after(graceMs, lose);
  };

  const hear = (): void => {
    heardAt = clock.now();
    pauseMs = firstPauseMs;
    cancelGrace?.();
    cancelGrace = null;
    cancelWatch?.();
    cancelWatch = clock.after(silentMs, () => {
      doubt();
      connect();
    });
    handlers.state('live', 0);
  };

  const receive = (name: LiveEventName, data: unknown): void => {
    hear();
    let parsed;
    try {
      parsed = liveEvents[name].safeParse(JSON.parse(String(data)));
    } catch {
      handlers.unfit(name);
      return;
    }
    if (parsed.success) handlers.message({ name, data: parsed.data } as LiveMessage);
    else handlers.unfit(name);
  };

  function connect(): void {
    source?.close();
    cancelReopen?.();
    cancelReopen = null;
    const current = open(liveAddress);
    source = current;
    const ifCurrent = (act: () => void): void => {
      if (!stopped && source === current) act();
    };
    current.addEventListener('open', () => ifCurrent(hear));
    for (const name of eventNames) current.addEventListener(name, (event) => ifCurrent(() => receive(name, event.data)));
    current.addEventListener('error', () =>
      ifCurrent(() => {
        doubt();
        if (current.readyState !== closed) return;
        cancelReopen?.();
        cancelReopen = clock.after(pauseMs, connect);
        pauseMs = Math.min(pauseMs * 2, longestPauseMs);
      }),
    );
  }

  connect();
  return () => {
    stopped = true;
    source?.close();
    for (const cancel of [cancelGrace, cancelWatch, cancelReopen]) cancel?.();
  };
};
