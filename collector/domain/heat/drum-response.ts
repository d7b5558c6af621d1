import { fitDrumStretches } from '../cure/drum-fit.ts';
import { estimateTimeConstantHours } from '../cure/drum-time-constant.ts';
import type { TemperatureReading } from '../cure/temperature-dose.ts';
import { hourMs, type EpochMs } from '../units/time.ts';

/** How a drum follows its air, and how well that is known. */
export interface DrumResponse {
  readonly timeConstantHours: number;
  /** About the relative error of the time constant. */
  readonly logSd: number;
  /** How far the drum settles from the air probe. */
  readonly offsetC: number;
  readonly offsetSdC: number;
  /** What the model misses of the drum from reading to reading. */
  readonly residualSdC: number;
  readonly basis: 'fitted' | 'assumed';
}

export interface DrumPast {
  readonly volumeL: number;
  readonly insulated: boolean;
  /** Brine temperature, oldest first. */
  readonly drum: readonly TemperatureReading[];
  readonly air: readonly TemperatureReading[];
  /** When its brine was disturbed: readings of the three hours after tell of the mixing, not of the air. */
  readonly disturbedAt: readonly EpochMs[];
}

/** The drum's own response where its readings tell it well enough, otherwise the one of a drum of its size, and so labelled. */
export const drumResponse = (past: DrumPast): DrumResponse => {
  const fit = fitDrumStretches(undisturbed(past.drum, past.disturbedAt), past.air);
  if (fit.ok && fit.value.logSd <= mostLogSd) {
    const { timeConstantHours, logSd, offsetC, residualSdC } = fit.value;
    if (timeConstantHours >= leastHours && timeConstantHours <= mostHours) return { timeConstantHours, logSd: Math.max(leastLogSd, logSd), offsetC, offsetSdC: 0.15, residualSdC, basis: 'fitted' };
  }
  return assumedResponse(past);
};

/** From the litres alone; wide (assumption): the heat transfer at the wall may be half or twice what is usual. */
export const assumedResponse = ({ volumeL, insulated }: Pick<DrumPast, 'volumeL' | 'insulated'>): DrumResponse => {
  const estimate = estimateTimeConstantHours(Math.min(2_000, Math.max(1, volumeL)), insulated ? insulatedTransfer : undefined);
  return { timeConstantHours: estimate.ok ? estimate.value : 11, logSd: 0.35, offsetC: 0, offsetSdC: 1, residualSdC: 0.3, basis: 'assumed' };
};

export const undisturbed = (drum: readonly TemperatureReading[], disturbedAt: readonly EpochMs[]): readonly (readonly TemperatureReading[])[] => {
  const edges = disturbedAt.toSorted((one, other) => one - other);
  const stretches: TemperatureReading[][] = [[]];
  let next = 0;
  for (const reading of drum) {
    while (next < edges.length && reading.t >= (edges[next] as EpochMs) - beforeMs) {
      next += 1;
      stretches.push([]);
    }
    const last = edges[next - 1];
    if (last === undefined || reading.t >= last + mixingMs) stretches.at(-1)?.push(reading);
  }
  return stretches.filter((stretch) => stretch.length > 1);
};

/** A fit outside these is of something else than a drum of 1 to 2,000 L, or worse known than its size tells. */
const leastHours = 1.5;
const mostHours = 120;
const mostLogSd = 0.35;
const leastLogSd = 0.03;
/** Two thirds of the heat through an insulated wall stays in (assumption). */
const insulatedTransfer = 2.5;
const beforeMs = hourMs / 2;
const mixingMs = 3 * hourMs;
