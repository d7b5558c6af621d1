import type { Draws } from './random.ts';
import type { Signal } from './signal.ts';

/**
 * What a digital probe of 12 bits sends: the temperature in steps of 1/16 °C.
 * Source: DS18B20 data sheet, table "temperature/data relationship". Example: 10.15 °C is sent as 10.125.
 */
export const quantise = (value: number, step: number): number => Math.round(value / step) * step;

export interface ProbeCharacter {
  /** Constant error, in the unit of the channel. */
  readonly offset: number;
  readonly noise: number;
  /** Smallest step of the sent value. */
  readonly step: number;
  readonly draws: Draws;
}

/** A true course as its probe tells it: offset, noise, steps. Steps of 0.01 and 0.1 are rounded once more, so that no 4.3100000000000005 is sent. */
export const probeSignal = (course: Signal, { offset, noise, step, draws }: ProbeCharacter): Signal => {
  const decimals = 6;
  return (at) => Number(quantise(course(at) + offset + noise * draws.gaussian(at), step).toFixed(decimals));
};
