import type { EpochMs } from '#domain/units/time.ts';
import { hourMs } from '#domain/units/time.ts';
import { dailyWave, swell, weatherNoise } from './outside-air.ts';
import { draws } from './random.ts';
import type { Signal } from './signal.ts';
import { followAir } from './warming.ts';

export interface ShedAir {
  readonly outside: Signal;
  readonly shed: Signal;
}

/** Invented climate and building: mild autumn, a shed of boards that follows the outside within hours. */
const climate = { meanC: 17.4, amplitudeC: 5, standardDeviationC: 0.7, correlationHours: 60 };
const shedTimeConstantHours = 4;
const heatSpell = { heightC: 3.5, centreHoursAgo: 10, halfWidthHours: 90 };

/** Air outside and in the shed: daily wave, weather, and a heat spell that has its height shortly before now. */
export const shedAir = ({ seed, start, now, afternoon }: { seed: number; start: EpochMs; now: EpochMs; afternoon: EpochMs }): ShedAir => {
  const wave = dailyWave({ ...climate, highestAt: afternoon });
  const weather = weatherNoise({ ...climate, start, draws: draws(seed, 'weather') });
  const spell = swell(now - heatSpell.centreHoursAgo * hourMs, heatSpell.halfWidthHours * hourMs);
  const outside: Signal = (at) => wave(at) + weather(at) + heatSpell.heightC * spell(at);
  return { outside, shed: followAir(outside, { start, startC: outside(start), timeConstantHours: shedTimeConstantHours }) };
};
