import { arrheniusFactor } from '#domain/cure/arrhenius.ts';
import type { EpochMs } from '#domain/units/time.ts';
import { dayMs, hourMs } from '#domain/units/time.ts';
import type { Signal } from './signal.ts';
import { steppedSignal } from './signal.ts';

export interface PhFall {
  readonly start: EpochMs;
  readonly startPh: number;
  readonly plateauPh: number;
  /** At 20 °C, the days in which 63 % of the way to the plateau is made. */
  readonly daysAt20C: number;
}

/** Two to three times slower at 12 to 15 °C than at 20 to 25 °C: 75 kJ/mol gives 2.6 (assumption). */
const activationEnergyKjPerMol = 75;

/**
 * pH of a brine that is kept and ferments: falls towards a plateau, faster when warm.
 *
 * pH = plateau + (start - plateau) e^(-D/τ), D = days at 20 °C (trapezoid on the Arrhenius factor, hourly).
 *
 * Source: assumption; no published table of pH against days was found. For the demo shed only, never shown in place of a reading.
 * Example: from 4.9 to a plateau of 4.0 with τ = 20 d, after 20 days at 20 °C: 4.33.
 */
export const phFall = (temperature: Signal, { start, startPh, plateauPh, daysAt20C }: PhFall): Signal => {
  const rate = (at: EpochMs): number => arrheniusFactor(temperature(at), activationEnergyKjPerMol);
  const stepDays = hourMs / dayMs;
  const dose = steppedSignal(start, hourMs, 0, (previous, index) => previous + (stepDays * (rate(start + (index - 1) * hourMs) + rate(start + index * hourMs))) / 2);
  return (at) => plateauPh + (startPh - plateauPh) * Math.exp(-dose(at) / daysAt20C);
};
