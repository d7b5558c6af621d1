import type { CureDays, FittedCures } from './cure-regression.ts';
import { cureRanges, predictCureDays } from './cure-regression.ts';
import { gasConstantKjPerMolK, kelvinOffset } from './arrhenius.ts';

/** One point of the line through a group's cures, with the 95 % interval of one more cure. */
export interface CurvePoint extends CureDays {
  /** The same by the shrunken activation energy, through the middle of the cures. */
  readonly shrunkenDays: number;
}

/** How far past the observed temperatures the line is drawn at all: five degrees, the last of them extrapolated and marked so. */
const reachC = 5;
/** A mean kinetic temperature is worked out through exponentials and misses a whole degree by its last bits. */
const hairC = 1e-6;

/**
 * The line through a group's cures at whole degrees.
 *
 * Shrunken: ln(days) = ȳ + Ea* · (x - x̄), x = 1/(R T): the pulled slope turns about the middle of the cures, where the level is known best.
 *
 * Source and valid range: as `fitCures`. Units: °C, days.
 * Example: cures observed from 12 to 24 °C give points from 7 to 29 °C, those below 9 and above 27 marked as extrapolated.
 */
export const compareCurve = (fit: FittedCures): readonly CurvePoint[] => {
  const from = Math.max(cureRanges.temperatureC.low, Math.floor(fit.temperatureC.low + hairC) - reachC);
  const to = Math.min(cureRanges.temperatureC.high, Math.ceil(fit.temperatureC.high - hairC) + reachC);
  const meanY = fit.intercept + fit.activationEnergyKjPerMol * fit.meanX;
  return Array.from({ length: to - from + 1 }, (_, i) => from + i).flatMap((temperatureC) => {
    const days = predictCureDays(fit, temperatureC);
    if (!days.ok) return [];
    const x = 1 / (gasConstantKjPerMolK * (temperatureC + kelvinOffset));
    return [{ ...days.value, shrunkenDays: Math.exp(meanY + fit.shrunkenKjPerMol * (x - fit.meanX)) }];
  });
};
