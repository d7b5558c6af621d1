import { signal, type ReadonlySignal } from '@preact/signals';

/**
 * One clock for all screens: the time of the shed computer, ticking here. A screen whose own clock is wrong still shows right ages.
 */
export interface Clock {
  readonly now: ReadonlySignal<number>;
  /** Takes over the server's idea of now. */
  readonly sync: (serverNow: string) => void;
  readonly stop: () => void;
}

export interface Ticker {
  readonly now: () => number;
  readonly every: (ms: number, run: () => void) => () => void;
}

export const createClock = (ticker: Ticker): Clock => {
  let aheadMs = 0;
  const now = signal(ticker.now());
  const tick = (): void => {
    now.value = ticker.now() + aheadMs;
  };
  return {
    now,
    sync: (serverNow) => {
      const server = Date.parse(serverNow);
      if (Number.isNaN(server)) return;
      aheadMs = server - ticker.now();
      tick();
    },
    stop: ticker.every(1_000, tick),
  };
};
