import { goldenSection } from '../stats/golden-section.ts';
import type { Result } from '../result.ts';
import { fail, ok } from '../result.ts';
import { hourMs } from '../units/time.ts';
import { drumTemperature } from './drum-warming.ts';
import type { TemperatureReading } from './temperature-dose.ts';

export interface DrumFit {
  readonly timeConstantHours: number;
  /** How far the drum settles from the air probe: a cold floor, a sunny wall, or a probe that is off. */
  readonly offsetC: number;
  readonly residualSdC: number;
  readonly readings: number;
}

export interface DrumNotFitted {
  readonly code: 'too-few-readings' | 'too-little-change' | 'no-time-constant';
  readonly message: string;
}

/**
 * A drum's own time constant from its readings and those of the air beside it.
 *
 * The drum is simulated from its first reading through the measured air, T_sim(t; τ) = T_air part + T_0 e^(-t/τ) + offset (1 - e^(-t/τ)).
 * For each τ the best T_0 and offset follow from linear least squares; τ is where the sum of squares is smallest. The whole run is
 * compared, not the change from reading to reading, which ten minutes apart is mostly noise.
 *
 * Source: Newton's law of cooling, least squares. Units: °C, h. Needs 24 drum readings over 12 h inside the span of the air readings, and
 * at least 1 °C of change between drum and air. Readings oldest first.
 */
export const fitDrum = (drum: readonly TemperatureReading[], air: readonly TemperatureReading[]): Result<DrumFit, DrumNotFitted> => {
  const firstAir = air[0]?.t ?? Infinity;
  const lastAir = air.at(-1)?.t ?? -Infinity;
  const inside = drum.filter((reading) => reading.t >= firstAir && reading.t <= lastAir);
  const first = inside[0];
  const last = inside.at(-1);
  if (first === undefined || last === undefined || inside.length < fewestReadings || last.t - first.t < shortestMs) {
    return fail({ code: 'too-few-readings', message: `needs ${fewestReadings} readings of drum and air over 12 hours` });
  }
  const stretches = airBetween(inside, air);
  const airs = stretches.flatMap((steps) => steps.map((step) => step.airC));
  if (Math.max(spread(airs), spread([...airs, first.temperatureC])) < leastChangeC) {
    return fail({ code: 'too-little-change', message: 'the air has not changed enough to tell how fast this drum follows' });
  }

  const cost = (logTau: number): number => sumOfSquares(inside, stretches, Math.exp(logTau)).squares;
  let best = Math.log(shortestTauHours);
  let least = Infinity;
  for (let logTau = Math.log(shortestTauHours); logTau <= Math.log(longestTauHours); logTau += coarseStep) {
    const here = cost(logTau);
    if (here < least) [best, least] = [logTau, here];
  }
  const logTau = goldenSection(cost, best - coarseStep, best + coarseStep, 1e-4);
  const timeConstantHours = Math.exp(logTau);
  if (timeConstantHours <= shortestTauHours || timeConstantHours >= longestTauHours) {
    return fail({ code: 'no-time-constant', message: 'the drum does not follow this air; is the air probe beside it?' });
  }
  const { squares, offsetC } = sumOfSquares(inside, stretches, timeConstantHours);
  return ok({ timeConstantHours, offsetC, residualSdC: Math.sqrt(squares / (inside.length - 3)), readings: inside.length });
};

const fewestReadings = 24;
const shortestMs = 12 * hourMs;
const leastChangeC = 1;
const shortestTauHours = 0.5;
const longestTauHours = 240;
const coarseStep = 0.3;

const spread = (values: readonly number[]): number => values.reduce((most, value) => Math.max(most, value), -Infinity) - values.reduce((least, value) => Math.min(least, value), Infinity);

interface AirStep {
  readonly hours: number;
  readonly airC: number;
  readonly slope: number;
}

/** The air between each two drum readings, as straight pieces. */
const airBetween = (drum: readonly TemperatureReading[], air: readonly TemperatureReading[]): readonly (readonly AirStep[])[] => {
  const stretches: AirStep[][] = [];
  let next = 1;
  for (let i = 1; i < drum.length; i++) {
    const steps: AirStep[] = [];
    let at = (drum[i - 1] as TemperatureReading).t;
    const end = (drum[i] as TemperatureReading).t;
    while (at < end) {
      while (next < air.length - 1 && (air[next] as TemperatureReading).t <= at) next++;
      const a = air[next - 1] as TemperatureReading;
      const b = air[next] as TemperatureReading;
      const slope = ((b.temperatureC - a.temperatureC) / (b.t - a.t)) * hourMs;
      const stop = Math.min(end, b.t);
      steps.push({ hours: (stop - at) / hourMs, airC: a.temperatureC + (slope * (at - a.t)) / hourMs, slope });
      at = stop;
    }
    stretches.push(steps);
  }
  return stretches;
};

/** Simulates with T_0 = 0 and no offset, then solves for both: y - base = T_0 f + offset (1 - f), f = e^(-t/τ). */
const sumOfSquares = (drum: readonly TemperatureReading[], stretches: readonly (readonly AirStep[])[], tau: number): { readonly squares: number; readonly offsetC: number } => {
  let base = 0;
  let hours = 0;
  const rows: (readonly [f: number, y: number])[] = [[1, (drum[0] as TemperatureReading).temperatureC]];
  for (const [i, steps] of stretches.entries()) {
    for (const step of steps) {
      base = drumTemperature(base, step.airC, step.slope, step.hours, tau);
      hours += step.hours;
    }
    rows.push([Math.exp(-hours / tau), (drum[i + 1] as TemperatureReading).temperatureC - base]);
  }
  let [ff, fg, gg, fy, gy, yy] = [0, 0, 0, 0, 0, 0];
  for (const [f, y] of rows) {
    const g = 1 - f;
    ff += f * f;
    fg += f * g;
    gg += g * g;
    fy += f * y;
    gy += g * y;
    yy += y * y;
  }
  const determinant = ff * gg - fg * fg;
  const startC = (fy * gg - gy * fg) / determinant;
  const offsetC = (gy * ff - fy * fg) / determinant;
  return { squares: Math.max(0, yy - startC * fy - offsetC * gy), offsetC };
};
