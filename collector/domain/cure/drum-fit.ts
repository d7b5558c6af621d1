import { goldenSection } from '../stats/golden-section.ts';
import type { Result } from '../result.ts';
import { fail, ok } from '../result.ts';
import { hourMs } from '../units/time.ts';
import { drumTemperature } from './drum-warming.ts';
import type { TemperatureReading } from './temperature-dose.ts';

export interface DrumFit {
  readonly timeConstantHours: number;
  /** Standard error of the natural logarithm of the time constant: about its relative error. */
  readonly logSd: number;
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
 * compared, not the change from reading to reading, which ten minutes apart is mostly noise. Its error follows from how sharply the
 * sum rises on both sides, widened by how alike neighbouring residuals are: ten readings that err together tell as much as one.
 *
 * Source: Newton's law of cooling, least squares; (1 + r)/(1 - r) for a first-order autoregression (textbook). Units: °C, h. Needs 24
 * drum readings over 12 h inside the span of the air readings, and at least 1 °C of change between drum and air. Readings oldest first.
 */
export const fitDrum = (drum: readonly TemperatureReading[], air: readonly TemperatureReading[]): Result<DrumFit, DrumNotFitted> => fitDrumStretches([drum], air);

/** The same over several stretches, between which the drum was disturbed (a brine change): each has a start of its own. */
export const fitDrumStretches = (stretches: readonly (readonly TemperatureReading[])[], air: readonly TemperatureReading[]): Result<DrumFit, DrumNotFitted> => {
  const firstAir = air[0]?.t ?? Infinity;
  const lastAir = air.at(-1)?.t ?? -Infinity;
  const inside = stretches.map((drum) => drum.filter((reading) => reading.t >= firstAir && reading.t <= lastAir)).filter((drum) => drum.length > 1);
  const readings = inside.reduce((sum, drum) => sum + drum.length, 0);
  const covered = inside.reduce((sum, drum) => sum + (drum.at(-1)?.t ?? 0) - (drum[0]?.t ?? 0), 0);
  if (readings < fewestReadings || covered < shortestMs) {
    return fail({ code: 'too-few-readings', message: `needs ${fewestReadings} readings of drum and air over 12 hours` });
  }
  const runs = inside.map((drum): Run => ({ drum, steps: airBetween(drum, air) }));
  const airs = runs.flatMap(({ steps }) => steps.flatMap((parts) => parts.map(({ airC }) => airC)));
  const starts = inside.map((drum) => drum[0]?.temperatureC ?? Number.NaN);
  if (Math.max(spread(airs), spread([...airs, ...starts])) < leastChangeC) {
    return fail({ code: 'too-little-change', message: 'the air has not changed enough to tell how fast this drum follows' });
  }

  const cost = (logTau: number): number => solve(runs, Math.exp(logTau)).squares;
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
  const { squares, offsetC, alike } = solve(runs, timeConstantHours);
  const variance = squares / Math.max(1, readings - runs.length - 2);
  const curvature = (cost(logTau - curveStep) + cost(logTau + curveStep) - 2 * squares) / curveStep ** 2;
  const logSd = curvature > 0 ? Math.sqrt(((2 * variance) / curvature) * ((1 + alike) / (1 - alike))) : Infinity;
  return ok({ timeConstantHours, logSd, offsetC, residualSdC: Math.sqrt(variance), readings });
};

const fewestReadings = 24;
const shortestMs = 12 * hourMs;
const leastChangeC = 1;
const shortestTauHours = 0.5;
const longestTauHours = 240;
const coarseStep = 0.3;
const curveStep = 0.05;
const mostAlike = 0.98;

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

interface Run {
  readonly drum: readonly TemperatureReading[];
  readonly steps: readonly (readonly AirStep[])[];
}

interface Row {
  readonly run: number;
  readonly f: number;
  readonly y: number;
}

/** Simulates each run with T_0 = 0 and no offset, then solves for all starts and the one offset: y - base = T_0 f + offset (1 - f), f = e^(-t/τ). */
const solve = (runs: readonly Run[], tau: number): { readonly squares: number; readonly offsetC: number; readonly alike: number } => {
  const rows: Row[] = [];
  const sums = runs.map((run, index) => {
    const own = rowsOf(run, index, tau);
    rows.push(...own);
    let [ff, fg, fy] = [0, 0, 0];
    for (const { f, y } of own) [ff, fg, fy] = [ff + f * f, fg + f * (1 - f), fy + f * y];
    return { ff, fg, fy };
  });
  let [gg, gy] = [0, 0];
  for (const { f, y } of rows) [gg, gy] = [gg + (1 - f) ** 2, gy + (1 - f) * y];
  const across = (pick: (sum: (typeof sums)[number]) => number): number => sums.reduce((total, sum) => total + pick(sum), 0);
  const offsetC = (gy - across(({ ff, fg, fy }) => (fg * fy) / ff)) / (gg - across(({ ff, fg }) => fg ** 2 / ff));
  const starts = sums.map(({ ff, fg, fy }) => (fy - offsetC * fg) / ff);
  let [squares, products, before] = [0, 0, 0];
  for (const { run, f, y } of rows) {
    const residual = y - (starts[run] ?? 0) * f - offsetC * (1 - f);
    squares += residual ** 2;
    products += residual * before;
    before = residual;
  }
  return { squares, offsetC, alike: squares > 0 ? Math.min(mostAlike, Math.max(0, products / squares)) : 0 };
};

const rowsOf = ({ drum, steps }: Run, run: number, tau: number): readonly Row[] => {
  let base = 0;
  let hours = 0;
  return drum.map(({ temperatureC }, i) => {
    for (const step of i === 0 ? [] : (steps[i - 1] ?? [])) {
      base = drumTemperature(base, step.airC, step.slope, step.hours, tau);
      hours += step.hours;
    }
    return { run, f: Math.exp(-hours / tau), y: temperatureC - base };
  });
};
