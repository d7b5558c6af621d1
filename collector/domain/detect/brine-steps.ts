import { drumTemperature } from '../cure/drum-warming.ts';
import type { TemperatureReading } from '../cure/temperature-dose.ts';
import { valueAt } from '../heat/value-at.ts';
import { hourMs, type EpochMs } from '../units/time.ts';
import { findJumps, type DrumTrace, type Jump } from './jumps.ts';

/** A jump that looks like fresh brine. */
export interface BrineStep {
  readonly at: EpochMs;
  readonly sizeC: number;
  /** Share of the jump that was left when brine and fruit had come to one temperature. */
  readonly settled: number;
}

export const leastStepC = 1.5;
/** Until then the mixing has not shown its shape. */
export const judgedAfterMs = 3 * hourMs;

/**
 * Jumps of at least 1.5 °C that rebound as a mixture does: fresh brine shows at once, then fruit and brine come to one temperature.
 *
 * Of a difference D the drum keeps w D, w = the share of its heat that is in its brine (0.4 to 0.6), within 0.5 to 3 hours. Two to
 * three hours after the jump, what it is off from the course without it, with the fading e^(-t/τ) taken out, must be 0.2 to 0.87 of it.
 * A probe lifted out and put back keeps nothing (0); one that was moved, or whose reading was shifted, all (1).
 *
 * Source: heat balance of brine and fruit; the times of settling are an assumption. Units: °C, h.
 * Example: 17 °C given brine of 12 °C settles at 14.3 °C: a jump of -5, 0.54 of it left.
 */
export const findBrineSteps = (trace: DrumTrace): readonly BrineStep[] =>
  findJumps(trace, leastStepC).flatMap((jump, _index, all) => {
    if (all.some((other) => undoes(jump, other))) return [];
    const settled = settledShare(trace, jump);
    return settled !== null && settled >= leastSettled && settled <= mostSettled ? [{ at: jump.at, sizeC: jump.sizeC, settled }] : [];
  });

/** A jump there and one back, hardly smaller: something was lifted out and put in again. */
const undoes = (jump: Jump, other: Jump): boolean => {
  const ratio = -other.sizeC / jump.sizeC;
  return Math.abs(other.at - jump.at) <= thereAndBackMs && ratio > 0.6 && ratio < 1.6;
};

const settledShare = ({ drum, air, response }: DrumTrace, { at, before, after }: Jump): number | null => {
  const start = drum[before];
  if (start === undefined) return null;
  let undisturbedC = start.temperatureC;
  let [peak, sum, count] = [0, 0, 0];
  for (let index = before + 1; index < drum.length; index += 1) {
    const { t, temperatureC } = drum[index] as TemperatureReading;
    const last = drum[index - 1] as TemperatureReading;
    const airC = valueAt(air, last.t);
    undisturbedC = drumTemperature(undisturbedC, (Number.isNaN(airC) ? undisturbedC : airC) + response.offsetC, 0, (t - last.t) / hourMs, response.timeConstantHours);
    const off = temperatureC - undisturbedC;
    if (index <= after + 1 && Math.abs(off) > Math.abs(peak)) peak = off;
    const hours = (t - at) / hourMs;
    if (hours > 3) break;
    if (hours < 2) continue;
    sum += off * Math.exp(hours / response.timeConstantHours);
    count += 1;
  }
  return count < leastMeans || peak === 0 ? null : sum / count / peak;
};

const thereAndBackMs = 2 * hourMs;
const leastSettled = 0.2;
const mostSettled = 0.87;
const leastMeans = 4;
