import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import { linearRegression } from '../stats/linear-regression.ts';
import { mean, sumOfSquares } from '../stats/moments.ts';
import { studentTQuantile } from '../stats/student-t.ts';
import type { OutsideValidRange, ValidRange } from '../valid-range.ts';
import { findOutside, outsideValidRange } from '../valid-range.ts';
import { gasConstantKjPerMolK, kelvinOffset } from './arrhenius.ts';
import { cureActivationEnergy } from './mean-kinetic-temperature.ts';

/** A cure that reached the grower's end point; one that has not is left out by the caller, who says so. */
export interface FinishedCure {
  /** Mean kinetic temperature of the cure. */
  readonly temperatureC: number;
  /** Days to the first tasting at or below the end point. */
  readonly days: number;
  /** Days between tastings: the end point was reached somewhere in the last of them. */
  readonly tastedEveryDays?: number | undefined;
}

interface Observed {
  readonly cures: number;
  /** The observed temperatures, and how long these cures took. */
  readonly temperatureC: { readonly low: number; readonly high: number };
  readonly days: { readonly low: number; readonly high: number };
}

/** One to three cures: nothing is fitted, the last ones took from so many to so many days. */
export interface TooFewCures extends Observed {
  readonly method: 'too-few';
}

export interface FittedCures extends Observed {
  /** fitted: both numbers from the data. energy-assumed: temperatures too alike to tell, only the level is fitted. */
  readonly method: 'fitted' | 'energy-assumed';
  readonly activationEnergyKjPerMol: number;
  readonly standardError: number;
  /** 95 % interval of the activation energy. */
  readonly interval: { readonly low: number; readonly high: number };
  /** Pulled towards the assumption of 45 ± 15 kJ/mol as far as its own error allows. */
  readonly shrunkenKjPerMol: number;
  /** An energy of a real process; outside 5 to 150 something other than temperature decides. */
  readonly plausible: boolean;
  readonly intercept: number;
  /** Residual standard deviation of ln(days). */
  readonly residual: number;
  readonly rSquared: number | null;
  readonly degreesOfFreedom: number;
  readonly meanX: number;
  readonly sumOfSquaresX: number;
}

export type CureRegression = FittedCures | TooFewCures;

export const cureRanges = {
  temperatureC: { low: 0, high: 45, unit: '°C' },
  days: { low: 0.5, high: 3_000, unit: 'days' },
} as const satisfies Record<string, ValidRange>;

/** x = 1/(R T) in mol/kJ. */
const inverseEnergy = (temperatureC: number): number => 1 / (gasConstantKjPerMolK * (temperatureC + kelvinOffset));

/**
 * How cure days depend on temperature, by the grower's own cures.
 *
 * ln(days) = a + Ea · x with x = 1/(R T_k), ordinary least squares. Below four cures nothing is fitted; below four degrees of span the
 * slope cannot be told and Ea is taken as 45 ± 15 kJ/mol. Shrunken: (Ê/se² + 45/15²)/(1/se² + 1/15²).
 *
 * Source: Arrhenius equation, least squares; 45 ± 15 and the thresholds are assumptions. Only cures of one cut, style and maturity.
 * Units: °C, days, kJ/mol. Valid range: `cureRanges`.
 * Example: (12, 46), (14, 41), (16, 33), (18, 31), (21, 24), (24, 21) °C and days give 47.27 kJ/mol, a = -16.11456.
 */
export const fitCures = (cures: readonly FinishedCure[]): Result<CureRegression, OutsideValidRange> => {
  if (cures.length === 0) return outsideValidRange('cures', 'cures must hold at least one finished cure');
  for (const [i, { temperatureC, days, tastedEveryDays = 0 }] of cures.entries()) {
    const field = `cures.${i}`;
    const outside = findOutside(
      { [`${field}.temperatureC`]: temperatureC, [`${field}.days`]: days, [`${field}.tastedEveryDays`]: tastedEveryDays },
      { [`${field}.temperatureC`]: cureRanges.temperatureC, [`${field}.days`]: cureRanges.days, [`${field}.tastedEveryDays`]: { low: 0, high: days, unit: 'days' } },
    );
    if (outside !== null) return outside;
  }
  const observed: Observed = { cures: cures.length, temperatureC: rangeOf(cures.map((cure) => cure.temperatureC)), days: rangeOf(cures.map((cure) => cure.days)) };
  if (cures.length < fewestCures) return ok({ method: 'too-few', ...observed });

  const points = cures.map(({ temperatureC, days, tastedEveryDays = 0 }) => ({ x: inverseEnergy(temperatureC), y: Math.log(days - tastedEveryDays / 2) }));
  // Days read off at tastings g apart carry at least the scatter of a uniform error, g²/12.
  const leastVariance = mean(cures.map(({ days, tastedEveryDays = 0 }) => tastedEveryDays ** 2 / 12 / days ** 2));
  if (observed.temperatureC.high - observed.temperatureC.low < leastSpanC) return ok(levelOnly(points, observed, leastVariance));

  const line = linearRegression(points);
  if (!line.ok) return line;
  const { slope, intercept, slopeError, rSquared, degreesOfFreedom, meanX, sumOfSquaresX } = line.value;
  const residual = Math.sqrt(Math.max(line.value.residual ** 2, leastVariance));
  const standardError = Math.max(slopeError, residual / Math.sqrt(sumOfSquaresX));
  const t = quantile(degreesOfFreedom);
  return ok({
    method: 'fitted', ...observed,
    activationEnergyKjPerMol: slope, standardError, interval: { low: slope - t * standardError, high: slope + t * standardError },
    shrunkenKjPerMol: shrink(slope, standardError), plausible: slope >= 5 && slope <= 150,
    intercept, residual, rSquared, degreesOfFreedom, meanX, sumOfSquaresX,
  });
};

const levelOnly = (points: readonly { readonly x: number; readonly y: number }[], observed: Observed, leastVariance: number): FittedCures => {
  const levels = points.map(({ x, y }) => y - cureActivationEnergy * x);
  const degreesOfFreedom = levels.length - 1;
  const xs = points.map(({ x }) => x);
  return {
    method: 'energy-assumed', ...observed,
    activationEnergyKjPerMol: cureActivationEnergy, standardError: assumedEnergySd,
    interval: { low: cureActivationEnergy - normal95 * assumedEnergySd, high: cureActivationEnergy + normal95 * assumedEnergySd },
    shrunkenKjPerMol: cureActivationEnergy, plausible: true,
    intercept: mean(levels), residual: Math.sqrt(Math.max(sumOfSquares(levels) / degreesOfFreedom, leastVariance)), rSquared: null, degreesOfFreedom,
    meanX: mean(xs), sumOfSquaresX: sumOfSquares(xs),
  };
};

export interface CureDays {
  readonly temperatureC: number;
  /** Median, and the 95 % prediction interval of one more cure: wider upwards. */
  readonly days: number;
  readonly low: number;
  readonly high: number;
  /** More than three degrees outside the observed temperatures: not supported by any cure. */
  readonly extrapolated: boolean;
}

/**
 * Days one more cure is likely to take at a temperature.
 *
 * ln(days) = ŷ ± t_{n-2, 0.975} · s · √(1 + 1/n + (x - x̄)²/Sxx), then exponentiated. Where the energy is assumed its own ± 15 kJ/mol takes
 * the place of the last term.
 *
 * Source: prediction interval of simple regression. Valid range: 0 to 45 °C.
 * Example: the fit above at 15 °C gives 37.15 days (33.02 to 41.80).
 */
export const predictCureDays = (fit: FittedCures, temperatureC: number): Result<CureDays, OutsideValidRange> => {
  const outside = findOutside({ temperatureC }, { temperatureC: cureRanges.temperatureC });
  if (outside !== null) return outside;
  const x = inverseEnergy(temperatureC);
  const middle = fit.intercept + fit.activationEnergyKjPerMol * x;
  const level = quantile(fit.degreesOfFreedom) * fit.residual;
  const half = fit.method === 'fitted'
    ? level * Math.sqrt(1 + 1 / fit.cures + (x - fit.meanX) ** 2 / fit.sumOfSquaresX)
    : Math.hypot(level * Math.sqrt(1 + 1 / fit.cures), normal95 * assumedEnergySd * (x - fit.meanX));
  return ok({
    temperatureC, days: Math.exp(middle), low: Math.exp(middle - half), high: Math.exp(middle + half),
    extrapolated: temperatureC < fit.temperatureC.low - furthestC - hairC || temperatureC > fit.temperatureC.high + furthestC + hairC,
  });
};

const fewestCures = 4;
const leastSpanC = 4;
const furthestC = 3;
/** A mean kinetic temperature misses a whole degree by its last bits; that is no reason to call a prediction unsupported. */
const hairC = 1e-6;
/** How far the activation energy of a cure may lie from 45 kJ/mol (assumption, one standard deviation). */
const assumedEnergySd = 15;
const normal95 = 1.959964;

const quantile = (degreesOfFreedom: number): number => {
  const t = studentTQuantile(0.975, degreesOfFreedom);
  return t.ok ? t.value : Number.NaN;
};

const shrink = (energy: number, error: number): number => {
  if (error === 0) return energy;
  const own = 1 / error ** 2;
  const assumed = 1 / assumedEnergySd ** 2;
  return (energy * own + cureActivationEnergy * assumed) / (own + assumed);
};

const rangeOf = (values: readonly number[]): { readonly low: number; readonly high: number } => ({ low: Math.min(...values), high: Math.max(...values) });
