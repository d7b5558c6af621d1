import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import type { OutsideValidRange, ValidRange } from '../valid-range.ts';
import { findOutside, outsideValidRange } from '../valid-range.ts';
import { percentWwFrom, strengthRange } from './bases.ts';
import { brineRanges } from './range.ts';
import { waterDensity } from './water-density.ts';

export type HydrometerReading =
  | { readonly densityKgPerM3: number; readonly sampleC: number; readonly calibratedAtC: number }
  | { readonly specificGravity: number; readonly sampleC: number; readonly calibratedAtC: number };

export interface HydrometerAnswer {
  readonly percentWw: number;
  readonly gPerL: number;
  /** True density of the sample at its own temperature. */
  readonly densityKgPerM3: number;
}

/**
 * Salt in a brine from a floating hydrometer, with the temperature of the sample and of the instrument's scale.
 *
 * The glass float grows by γ = 25e-6 per °C, so ρ = reading / (1 + γ·(sample - calibrated)); the brine itself expands ten times more,
 * which is why the true density is compared with brine at the sample's temperature. A specific gravity is against water at the
 * calibration temperature (60/60 °F, 20/20 °C) and is first made a density on that scale.
 *
 * Source: ISO 649-1 (glass 25e-6 per °C, from memory); density by `brineDensity`. Valid range: 0 to 40 °C, plain water to saturation.
 * Leached solids read as salt: in an old brine expect 0.2 to 0.5 % too much (from memory).
 * Example: 1059.1 kg/m³ at 10 °C on a 20 °C instrument is 8.05 % w/w; without the sample temperature it would be read as 8.44 %.
 */
export const readHydrometer = (reading: HydrometerReading): Result<HydrometerAnswer, OutsideValidRange> => {
  const { sampleC, calibratedAtC } = reading;
  const outside = findOutside({ sampleC, calibratedAtC }, { sampleC: brineRanges.temperatureC, calibratedAtC: brineRanges.temperatureC });
  if (outside !== null) return outside;
  const field = 'densityKgPerM3' in reading ? 'densityKgPerM3' : 'specificGravity';
  const onScale = 'densityKgPerM3' in reading ? reading.densityKgPerM3 : reading.specificGravity * waterDensity(calibratedAtC);
  const densityKgPerM3 = onScale / (1 + glassExpansionPerC * (sampleC - calibratedAtC));
  const percentWw = percentWwFrom('density', densityKgPerM3, sampleC);
  if (!percentWw.ok) return outsideValidRange(field, `${field} is not that of a salt brine between plain water and saturation at ${sampleC} °C`);
  return ok({ percentWw: percentWw.value, gPerL: (percentWw.value / 100) * densityKgPerM3, densityKgPerM3 });
};

export const glassExpansionPerC = 25e-6;

/** What a hydrometer can show in a salt brine, as density on its own scale and as specific gravity; temperatures inside `brineRanges`. */
export const hydrometerRanges = (sampleC: number, calibratedAtC: number): { readonly densityKgPerM3: ValidRange; readonly specificGravity: ValidRange } => {
  const { low, high } = strengthRange('density', sampleC);
  const growth = 1 + glassExpansionPerC * (sampleC - calibratedAtC);
  const water = waterDensity(calibratedAtC);
  return {
    densityKgPerM3: { low: low * growth, high: high * growth, unit: 'kg/m³' },
    specificGravity: { low: (low * growth) / water, high: (high * growth) / water, unit: '' },
  };
};
