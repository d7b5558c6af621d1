import type { Slug } from '../reading/reading.ts';
import type { Lot } from '../journal/entry.ts';
import type { Shed } from '../journal/shed.ts';
import { hourMs, type EpochMs } from '../units/time.ts';
import { openHolds } from '../jar/holds.ts';
import { jarGateOf } from '../jar/jar-evidence.ts';
import { afterHarvestSteps } from './after-harvest-steps.ts';
import { stepsOfBatch } from './batch-steps.ts';
import { brineAt } from './brine.ts';
import type { NextTasting } from './next-tasting.ts';
import { expectedSaltGPerL } from './salt-now.ts';
import { localMorning, type Step } from './schedule.ts';
import { localDate } from './stage.ts';
import { overdueHoursOf, taskKinds, type TaskKind } from './schedules.ts';
import { calibratePhStep, calibrateTemperatureStep, orderStep, type SiteStep } from './site-steps.ts';
import { tastingReason } from './tasting-text.ts';
import { needsOf, taskText, taskTitles, type TaskNeeds } from './task-text.ts';

/** Something due. The id is stable (lot, kind, ordinal): it is what people settle. What is done for the whole shed stands with the drum that needs it first. */
export interface Task {
  readonly id: string;
  readonly drum: Slug;
  readonly lot: Lot;
  readonly kind: TaskKind;
  readonly dueAt: EpochMs;
  readonly overdue: boolean;
  readonly title: string;
  readonly text: string;
  readonly needs: TaskNeeds;
}

/** When lots may be sweet at the earliest, for tasks that look ahead; whoever makes no forecasts leaves it out. */
export type ReadyFrom = ReadonlyMap<Lot, EpochMs>;

/** The tasting of each lot that teaches most; without, tastings go by their schedule. */
export type Tastings = ReadonlyMap<Lot, Pick<NextTasting, 'at' | 'notBefore'>>;

/** A day that has passed is today's, and late only where its turn in the schedule has passed as well: a taste that teaches is no chore. */
const whenItTeaches = (step: Step, tasting: { readonly at: EpochMs } | undefined, now: EpochMs, zone: string): Step => {
  if (step.kind !== 'taste' || tasting === undefined) return step;
  const today = localMorning(localDate(now, zone), zone);
  return { ...step, dueAt: tasting.at >= today ? tasting.at : Math.min(today, Math.max(tasting.at, step.dueAt)) };
};

/** The open task of each kind for every batch and for the shed, soonest first; those of later days are in it too, with their time. */
export const tasksOf = (shed: Shed, now: EpochMs, zone: string, readyFrom: ReadyFrom = new Map(), tastings: Tastings = new Map()): Task[] => {
  const batches = [...shed.batches.values()];
  const steps = batches.flatMap((batch) => stepsOfBatch(shed, batch, now, zone).map((step): SiteStep => ({ ...whenItTeaches(step, tastings.get(batch.lot), now, zone), batch })));
  const site = [calibratePhStep(shed, steps, zone), calibrateTemperatureStep(shed, batches, now, zone), orderStep(shed, batches, readyFrom, now, zone), ...afterHarvestSteps(shed, now, zone)].filter((step) => step !== null);
  return [...site, ...steps].map((step) => taskOf(shed, step, now, zone, tastings)).sort(bySoonest);
};

/** What is due first for what is in a drum now. */
export const nextTask = (shed: Shed, drum: Slug, now: EpochMs, zone: string, tastings: Tastings = new Map()): Task | null => {
  const lot = shed.drums.get(drum)?.lot;
  const batch = lot === undefined || lot === null ? undefined : shed.batches.get(lot);
  if (batch === undefined) return null;
  return stepsOfBatch(shed, batch, now, zone).map((step) => taskOf(shed, { ...whenItTeaches(step, tastings.get(lot ?? ''), now, zone), batch }, now, zone, tastings)).sort(bySoonest)[0] ?? null;
};

const taskOf = (shed: Shed, { id, kind, dueAt, batch, also = [] }: SiteStep, now: EpochMs, zone: string, tastings: Tastings): Task => {
  const tasting = kind === 'taste' ? tastings.get(batch.lot) : undefined;
  const needs = needsOf(kind, [batch, ...also], brineAt(batch, now));
  const names = [batch, ...also].map(({ drum }) => shed.drums.get(drum)?.name ?? drum);
  return {
    id,
    drum: batch.drum,
    lot: batch.lot,
    kind,
    dueAt,
    overdue: now > dueAt + overdueHoursOf[kind] * hourMs,
    title: taskTitles[kind],
    text: [taskText(kind, names.join(', '), needs, {
      expectedSaltGPerL: kind === 'measure-salt' ? expectedSaltGPerL(batch, dueAt) : null,
      held: kind === 'settle-hold' ? openHolds(batch.acts, now).map(({ reason }) => reason).join('; ') : '',
      nextJarPh: kind === 'measure-jars' ? (jarGateOf(batch, { calibrations: shed.calibrations, zone, now })?.next?.text ?? '') : '',
    }), ...(tasting === undefined ? [] : [tastingReason(tasting, now, zone)])].join(' '),
    needs,
  };
};

/** On one morning in the order of the kinds: a meter is compared before it is used, a drum is looked into before it is tasted. */
const bySoonest = (one: Task, other: Task): number =>
  one.dueAt - other.dueAt || taskKinds.indexOf(one.kind) - taskKinds.indexOf(other.kind) || (one.id < other.id ? -1 : 1);
