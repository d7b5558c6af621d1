import type { EpochMs } from '#domain/units/time.ts';
import { dayMs, hourMs } from '#domain/units/time.ts';
import type { Draws } from './random.ts';
import type { Signal } from './signal.ts';
import { steppedSignal } from './signal.ts';

export interface Wave {
  readonly meanC: number;
  readonly amplitudeC: number;
  /** A moment at which the wave is at its highest. */
  readonly highestAt: EpochMs;
}

/** T = mean + amplitude · cos(2π (t - t_highest)/24 h). */
export const dailyWave =
  ({ meanC, amplitudeC, highestAt }: Wave): Signal =>
  (at) =>
    meanC + amplitudeC * Math.cos((2 * Math.PI * (at - highestAt)) / dayMs);

export interface WeatherNoise {
  readonly start: EpochMs;
  readonly draws: Draws;
  readonly standardDeviationC: number;
  readonly correlationHours: number;
}

/**
 * Weather as a slow autoregressive process: warm days follow warm days.
 *
 * x_n = φ x_(n-1) + σ √(1 - φ²) ε_n with φ = e^(-1 h/τ_c), so that the spread is σ whatever the step.
 * Source: first-order autoregression (textbook). The numbers put in are invented. Units: °C, hours.
 */
export const weatherNoise = ({ start, draws, standardDeviationC, correlationHours }: WeatherNoise): Signal => {
  const keep = Math.exp(-1 / correlationHours);
  const fresh = standardDeviationC * Math.sqrt(1 - keep ** 2);
  return steppedSignal(start, hourMs, standardDeviationC * draws.gaussian(0), (previous, index) => keep * previous + fresh * draws.gaussian(index));
};

/** A rise that begins and ends gently: ½(1 + cos(π (t - centre)/half-width)) of its height, nothing outside. */
export const swell =
  (centre: EpochMs, halfWidthMs: number): Signal =>
  (at) => {
    const position = Math.abs(at - centre) / halfWidthMs;
    return position >= 1 ? 0 : (1 + Math.cos(Math.PI * position)) / 2;
  };
