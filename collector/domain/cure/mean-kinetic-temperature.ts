import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import type { OutsideValidRange } from '../valid-range.ts';
import { findOutside, outsideValidRange } from '../valid-range.ts';
import { arrheniusFactor, gasConstantKjPerMolK, kelvinOffset, referenceC } from './arrhenius.ts';
import type { TemperatureSpan } from './temperature-span.ts';
import { totalHours } from './temperature-span.ts';

export interface MeanTemperatures {
  /** The steady temperature that does the same to the fruit as the history did. */
  readonly meanKineticC: number;
  readonly meanC: number;
  readonly hours: number;
}

/**
 * Mean kinetic temperature of an uneven history.
 *
 * T_k = (Ea/R) / -ln[Σ w_i e^(-Ea/(R T_i)) / Σ w_i], T in kelvin, w_i hours; along a span the trapezoid rule on the exponential.
 *
 * Source: USP <1160> (equation, 83.144 kJ/mol "unless more accurate information is available"); unequal spacing: Tong & Lock 2015.
 * Units: °C, kJ/mol, h. Valid range: Ea 10 to 200 kJ/mol, at least one span with hours.
 * It describes one chemical step, not microbial growth, and for a cure with brine changes the leaching dose tells more.
 * Example: 23 h at 20 °C and 1 h at 40 °C give 22.45 °C (mean 20.83). Without weights it would be 34.36.
 */
export const meanKineticTemperature = (
  spans: readonly TemperatureSpan[],
  activationEnergyKjPerMol: number = pharmacopoeiaActivationEnergy,
): Result<MeanTemperatures, OutsideValidRange> => {
  const outside = findOutside({ activationEnergyKjPerMol }, { activationEnergyKjPerMol: activationEnergyRange });
  if (outside !== null) return outside;
  const hours = totalHours(spans);
  if (!(hours > 0)) return outsideValidRange('parts', 'parts must hold some hours');
  let sum = 0;
  let kinetic = 0;
  for (const span of spans) {
    sum += (span.hours * (span.fromC + span.toC)) / 2;
    const from = arrheniusFactor(span.fromC, activationEnergyKjPerMol);
    kinetic += (span.hours * (span.toC === span.fromC ? from : (from + arrheniusFactor(span.toC, activationEnergyKjPerMol)) / 2));
  }
  // Rates are taken relative to 20 °C, where they are near 1: e^(-Ea/RT) itself is as small as 1e-16.
  const inverse = 1 / (referenceC + kelvinOffset) - (gasConstantKjPerMolK / activationEnergyKjPerMol) * Math.log(kinetic / hours);
  return ok({ meanKineticC: 1 / inverse - kelvinOffset, meanC: sum / hours, hours });
};

/** USP <1160>; for medicines, not for olives. */
export const pharmacopoeiaActivationEnergy = 83.144;

/** A starting value for cure days (assumption: between diffusion and chemistry). */
export const cureActivationEnergy = 45;

export const activationEnergyRange = { low: 10, high: 200, unit: 'kJ/mol' } as const;
