import { estimateTimeConstantHours } from '#domain/cure/drum-time-constant.ts';
import type { EpochMs } from '#domain/units/time.ts';
import { hourMs } from '#domain/units/time.ts';
import type { FreshBrine } from './brine-change-step.ts';
import { withBrineChanges } from './brine-change-step.ts';
import { swell } from './outside-air.ts';
import type { Signal } from './signal.ts';
import { followAir } from './warming.ts';

/** Still air indoors, W/m²K: the drums stand out of the draught, at the low end of the usual range. */
const stillAirTransfer = 5;

const timeConstantHours = (volumeL: number): number => {
  const estimate = estimateTimeConstantHours(volumeL, stillAirTransfer);
  if (!estimate.ok) throw new RangeError(estimate.error.message);
  return estimate.value;
};

export interface DrumCourse {
  readonly volumeL: number;
  readonly start: EpochMs;
  readonly startC: number;
  readonly air: Signal;
  readonly changes: readonly FreshBrine[];
}

/** Brine temperature of one drum over one batch: follows its air, steps at brine changes. */
export const drumCourse = ({ volumeL, start, startC, air, changes }: DrumCourse): Signal => {
  const hours = timeConstantHours(volumeL);
  return withBrineChanges(followAir(air, { start, startC, timeConstantHours: hours }), hours, changes);
};

export interface SunOnDrum {
  readonly now: EpochMs;
  readonly temperatureNowC: number;
}

/** Sun through the west door: begins to bear on the drum 18 hours ago, is at its strongest 6 hours before now, and leaves it 6 hours after. */
const sun = { strongestHoursAgo: 6, halfWidthHours: 12 };

/**
 * The same drum with the sun on it, so strong that it has a given temperature now.
 * The drum is linear: its answer to a sun of strength 1 is worked out once and scaled.
 */
export const withSun = (plain: Signal, volumeL: number, { now, temperatureNowC }: SunOnDrum): Signal => {
  const begins = now - (sun.strongestHoursAgo + sun.halfWidthHours) * hourMs;
  const unit = followAir(swell(now - sun.strongestHoursAgo * hourMs, sun.halfWidthHours * hourMs), {
    start: begins,
    startC: 0,
    timeConstantHours: timeConstantHours(volumeL),
  });
  const strength = (temperatureNowC - plain(now)) / unit(now);
  return (at) => plain(at) + strength * unit(at);
};
