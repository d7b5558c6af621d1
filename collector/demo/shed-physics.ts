import { fleshWaterL } from '#domain/cure/brine-ratio.ts';
import type { Slug } from '#domain/reading/reading.ts';
import { brineHeatShare } from './physics/brine-change-step.ts';
import { drumCourse, withSun } from './physics/drum-course.ts';
import { phFall } from './physics/ph-fall.ts';
import { saltUptake } from './physics/salt-uptake.ts';
import { shedAir } from './physics/shed-air.ts';
import type { Signal } from './physics/signal.ts';
import type { DatedBatch, DatedStory } from './season-plan.ts';
import type { DrumPlan } from './story.ts';
import { demoDrums, roles, saltAddition } from './story.ts';

/** The true courses of the simulated shed, before any probe has looked at them. Pure: the same story and seed give the same shed. */
export interface ShedCourses {
  readonly outsideAir: Signal;
  readonly shedAir: Signal;
  /** Brine temperature by drum, over the batch that is in it. */
  readonly temperature: ReadonlyMap<Slug, Signal>;
  readonly ph: Signal;
  readonly salinity: Signal;
}

/** Brine is mixed the evening before and stands by the cool north wall. */
const freshBrineC = 14.5;

/** Just above the caution limit of 25 °C and well below the danger limit of 30 °C. */
const warmDrumC = 26.3;

/** The fermenting drum was acidified a little at the start; its salt and pH go as invented but plausible fruit would. */
const ferment = { startPh: 4.9, plateauPh: 3.95, daysAt20C: 16, uptakePerDay: 0.15 };

export const shedCourses = (story: DatedStory, seed: number): ShedCourses => {
  const air = shedAir({ seed, ...story });
  const temperature = new Map<Slug, Signal>();
  for (const batch of story.batches) temperature.set(batch.plan.drum, temperatureOf(batch, air.shed, story));
  const fermenting = story.batches.find(({ plan }) => plan.drum === roles.fermenting) as DatedBatch;
  const { plan, startedAt } = fermenting;
  return {
    outsideAir: air.outside,
    shedAir: air.shed,
    temperature,
    ph: phFall(temperature.get(plan.drum) as Signal, { start: startedAt, ...ferment }),
    salinity: saltUptake({
      start: startedAt,
      brineL: plan.brineL,
      saltGPerL: plan.saltGPerL,
      ratio: plan.brineL / fleshWaterL(plan),
      uptakePerDay: ferment.uptakePerDay,
      additions: [{ at: story.saltAddedAt, saltG: saltAddition.saltG }],
    }),
  };
};

const temperatureOf = ({ plan, startedAt, changes }: DatedBatch, shed: Signal, { now, unloggedAt }: DatedStory): Signal => {
  const drum = demoDrums.find(({ id }) => id === plan.drum) as DrumPlan;
  const air: Signal = (at) => shed(at) + drum.cornerC;
  const heatShare = brineHeatShare(plan.fruitKg, plan.brineL);
  const course = drumCourse({
    volumeL: drum.volumeL,
    start: startedAt,
    startC: shed(startedAt) + heatShare * (freshBrineC - shed(startedAt)),
    air,
    changes: [...changes.map(({ at }) => at), ...(plan.drum === roles.forgotten ? [unloggedAt] : [])].map((at) => ({ at, temperatureC: freshBrineC, heatShare })),
  });
  return plan.drum === roles.warm ? withSun(course, drum.volumeL, { now, temperatureNowC: warmDrumC }) : course;
};
