import type { EpochMs } from '#domain/units/time.ts';

/** The clock of the shed. In the demo it may run faster than the wall's; everything that judges or stores asks this one. */
export interface Clock {
  now(): EpochMs;
}

export const systemClock: Clock = { now: () => Date.now() };

/** Starts at the real time and runs `speed` times as fast; two processes given the same `startedAt` agree. */
export const scaledClock = (startedAt: EpochMs, speed: number, real: Clock = systemClock): Clock => (speed === 1 ? real : { now: () => Math.round(startedAt + (real.now() - startedAt) * speed) });
