import type { TemperatureReading } from '../cure/temperature-dose.ts';
import { drumTemperature } from '../cure/drum-warming.ts';
import type { DrumResponse } from '../heat/drum-response.ts';
import { valueAt } from '../heat/value-at.ts';
import { median } from '../stats/moments.ts';
import { hourMs, minuteMs, type EpochMs } from '../units/time.ts';

/** What a probe of brine and the air beside it said: ten-minute means, oldest first. */
export interface DrumTrace {
  readonly drum: readonly TemperatureReading[];
  readonly air: readonly TemperatureReading[];
  readonly response: Pick<DrumResponse, 'timeConstantHours' | 'offsetC'>;
}

export interface Jump {
  readonly at: EpochMs;
  /** Place in the trace of the last mean before it, and of the one at which it was complete. */
  readonly before: number;
  readonly after: number;
  readonly sizeC: number;
}

/**
 * Sudden changes of a drum's temperature, its warming towards the air taken out: a two-sided CUSUM on ten-minute means.
 *
 * e_k = T_k - [what the air makes of T_(k-1)]; S+ = max(0, S+ + e - κ), S- = max(0, S- - e - κ), κ = max(σ/2, 0.1 °C). A jump is a sum
 * of e of at least 5 σ and `leastC` within three means of its beginning (a change takes up to 20 minutes and may fall on two of them).
 * σ is the median of |e| times 1.4826, so that the jumps themselves do not count, and at least 0.04 °C.
 *
 * Source: Page 1954 (CUSUM); median absolute deviation (textbook). Units: °C. Valid where means follow each other within 20 minutes.
 * Example: 17.0, 17.0, 12.4, 12.5 °C in steady air of 17 °C: one jump of -4.6 °C at the third.
 */
export const findJumps = ({ drum, air, response }: DrumTrace, leastC: number): readonly Jump[] => {
  const surprises = drum.map((reading, index) => surprise(drum[index - 1], reading, air, response));
  const known = surprises.filter((each) => each !== null).map(Math.abs);
  const sigma = Math.max(leastSigmaC, 1.4826 * (known.length > 0 ? median(known) : 0));
  const allowance = Math.max(sigma / 2, leastAllowanceC);
  const jumps: Jump[] = [];
  const runs = [{ sign: 1, sum: 0, total: 0, start: 0 }, { sign: -1, sum: 0, total: 0, start: 0 }];
  surprises.forEach((value, index) => {
    for (const run of runs) {
      if (value === null) {
        run.sum = 0;
        continue;
      }
      if (run.sum === 0) [run.start, run.total] = [index, 0];
      run.sum = Math.max(0, run.sum + run.sign * value - allowance);
      run.total += value;
      const size = run.sign * run.total;
      if (run.sum < sigmas * sigma || size < leastC || index - run.start >= mostMeans) continue;
      const last = jumps.at(-1);
      // The same jump, still growing.
      if (last !== undefined && last.before === run.start - 1 && Math.sign(last.sizeC) === run.sign) jumps.pop();
      jumps.push({ at: whenWithin(drum, run.start, index, surprises), before: run.start - 1, after: index, sizeC: run.total });
    }
  });
  return jumps;
};

/** The last mean before the jump is whole; in the first one that moves, the share moved tells when in its ten minutes it began. */
const whenWithin = (drum: readonly TemperatureReading[], start: number, end: number, surprises: readonly (number | null)[]): EpochMs => {
  const middle = (drum[start] as TemperatureReading).t;
  const total = surprises.slice(start, end + 1).reduce<number>((sum, value) => sum + (value ?? 0), 0);
  const share = Math.min(1, Math.max(0, (surprises[start] ?? 0) / total));
  return Math.round(middle + (0.5 - share) * meanMs);
};

const surprise = (before: TemperatureReading | undefined, reading: TemperatureReading, air: readonly TemperatureReading[], { timeConstantHours, offsetC }: DrumTrace['response']): number | null => {
  if (before === undefined || reading.t - before.t > longestStepMs) return null;
  const hours = (reading.t - before.t) / hourMs;
  const airC = valueAt(air, before.t);
  if (Number.isNaN(airC)) return reading.temperatureC - before.temperatureC;
  return reading.temperatureC - drumTemperature(before.temperatureC, airC + offsetC, 0, hours, timeConstantHours);
};

const sigmas = 5;
const leastSigmaC = 0.04;
const leastAllowanceC = 0.1;
const mostMeans = 3;
const meanMs = 10 * minuteMs;
const longestStepMs = 20 * minuteMs;
