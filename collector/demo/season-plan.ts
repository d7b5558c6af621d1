import type { EpochMs } from '#domain/units/time.ts';
import { hourMs, minuteMs } from '#domain/units/time.ts';
import { localTime, wallClock } from './local-time.ts';
import type { BatchPlan, ChangePlan, Moment } from './story.ts';
import { demoBatches, jarring, powerCut, roles, saltAddition, silentHours } from './story.ts';

export interface Change {
  readonly at: EpochMs;
  readonly saltGPerL: number;
}

/** A batch of the story with its days put on the calendar. */
export interface DatedBatch {
  readonly plan: BatchPlan;
  readonly pickedAt: EpochMs;
  readonly startedAt: EpochMs;
  /** When the fruit left the drum; null while it is in it. */
  readonly jarredAt: EpochMs | null;
  readonly changes: readonly Change[];
  readonly tastings: readonly { readonly at: EpochMs; readonly note?: string }[];
  readonly saltChecks: readonly { readonly at: EpochMs; readonly gPerL: number }[];
}

export interface DatedStory {
  readonly now: EpochMs;
  readonly zone: string;
  /** The first morning: the shed is set up and its probes are compared in a bucket. */
  readonly start: EpochMs;
  readonly batches: readonly DatedBatch[];
  readonly saltAddedAt: EpochMs;
  readonly silentSince: EpochMs;
  /** When somebody changed the brine of the forgotten drum and wrote nothing down. */
  readonly unloggedAt: EpochMs;
  readonly powerCut: { readonly from: EpochMs; readonly to: EpochMs };
  /** A moment at three in the afternoon, when the air outside is warmest. */
  readonly afternoon: EpochMs;
}

const firstMorning: Moment = { daysAgo: 42, clock: '09:00' };

export const dateStory = (now: EpochMs, zone: string): DatedStory => {
  const at = ({ daysAgo, clock }: Moment): EpochMs => localTime(now, zone, daysAgo, clock);
  const cutFrom = at(powerCut.from);
  return {
    now,
    zone,
    start: at(firstMorning),
    batches: demoBatches.map((plan: BatchPlan) => ({
      plan,
      pickedAt: at(plan.picked),
      startedAt: at(plan.started),
      jarredAt: plan.drum === roles.jarred ? at(jarring) : null,
      changes: [...plan.changes, ...(plan.drum === roles.soaking ? soakChanges(plan, now, zone) : [])].map((change) => ({ at: at(change), saltGPerL: change.saltGPerL })),
      saltChecks: (plan.saltChecks ?? []).map(({ gPerL, ...moment }) => ({ at: at(moment), gPerL })),
      tastings: plan.tastings.map(({ daysAgo, clock, ...rest }) => ({ at: at({ daysAgo, clock }), ...rest })),
    })),
    saltAddedAt: at(saltAddition),
    unloggedAt: unloggedChange(now, zone),
    silentSince: now - silentHours * hourMs,
    powerCut: { from: cutFrom, to: cutFrom + powerCut.hours * hourMs },
    afternoon: localTime(now, zone, 0, '15:00'),
  };
};

/** Before noon or towards evening, whichever was last and is long enough ago to have shown what it was. */
const unloggedChange = (now: EpochMs, zone: string): EpochMs => {
  const moments = [{ daysAgo: 0, clock: '17:40' }, { daysAgo: 0, clock: '10:40' }, { daysAgo: 1, clock: '17:40' }].map(({ daysAgo, clock }) => localTime(now, zone, daysAgo, clock));
  return moments.find((at) => at <= now - shownAfterMs) ?? now - shownAfterMs;
};

/** Fruit and fresh brine need three hours to come to one temperature. */
const shownAfterMs = 3.5 * hourMs;

/** The water is changed every day before breakfast or after supper: whichever of the two was last, so that the next is never yet due. */
const soakChanges = (plan: BatchPlan, now: EpochMs, zone: string): ChangePlan[] => {
  const morning = '07:30';
  const evening = '19:30';
  const written = 5 * minuteMs;
  const clock = wallClock(now - written, zone);
  const isDaytime = clock >= morning && clock < evening;
  const last = isDaytime || clock >= evening ? 0 : 1;
  const changes: ChangePlan[] = [];
  for (let daysAgo = plan.started.daysAgo - 1; daysAgo >= last; daysAgo--) changes.push({ daysAgo, clock: isDaytime ? morning : evening, saltGPerL: 0 });
  return changes;
};
