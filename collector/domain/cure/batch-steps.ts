import { openHolds } from '../jar/holds.ts';
import { channels, type Channel } from '../reading/channel.ts';
import type { Slug } from '../reading/reading.ts';
import { isAct, isInDrum, type Batch, type Shed, type StoryAct } from '../journal/shed.ts';
import { dayMs, hourMs, type EpochMs } from '../units/time.ts';
import { inDrum, sweetBitterness } from './batch.ts';
import { careSteps } from './care-steps.ts';
import { brineAt, isPlainWater, renewingFraction } from './brine.ts';
import { openChangeOf } from './open-change.ts';
import { handTemperatureStep } from './hand-temperature.ts';
import { firstMorning, holdStep, jarStepsOf } from './jar-steps.ts';
import { outcomesOf } from './outcomes.ts';
import { openStep, stepId, type Outcomes, type Series, type Step } from './schedule.ts';
import { jarSteps, keptSaltSteps, lookSteps, phSteps, saltAfterHours, saltBeforeNextChangeDays, soured, tasteStages, tasteSteps } from './schedules.ts';
import { stageAt } from './stage.ts';

/** The open step of everything that is done again and again, or once, in a cure. */
export const stepsOfBatch = (shed: Shed, batch: Batch, now: EpochMs, zone: string): Step[] => {
  const outcomes = outcomesOf(shed, batch);
  if (batch.jarredAt !== null) return jarStepsOf(shed, batch, batch.jarredAt, outcomes, now, zone);
  const stage = stageAt(batch, now);
  const past = batch.acts.filter((act) => act.standing && act.at <= now);
  const change = openChangeOf(shed, batch, now, zone)?.step ?? null;
  const watched = (channel: Channel): boolean => isWatched(shed, batch.drum, channel);
  const held = holdStep(batch, outcomes, now);
  const steps: (Step | null)[] = [change, held];
  const series = (one: Omit<Series, 'lot'>): void => void steps.push(openStep({ lot: batch.lot, ...one }, outcomes, zone));

  // What was split off for jars waits for them, and for nothing else.
  if (!isInDrum(batch)) {
    const waiting = openStep({ lot: batch.lot, start: batch.from?.at ?? batch.startedAt, acts: [], after: () => ({ kind: 'jar', steps: jarSteps }) }, outcomes, zone);
    return [held, waiting].filter((step) => step !== null);
  }
  // Nobody tastes what is on hold; the hold itself asks for an answer.
  if (tasteStages.has(stage) && openHolds(batch.acts, now).length === 0) series({ start: batch.startedAt, acts: past.filter(isAct('tasted')), after: () => ({ kind: 'taste', steps: tasteSteps }) });
  if (!watched('ph')) {
    const measured = past.filter((act) => isAct('measured')(act) && act.body.quantity === 'ph');
    if (batch.style === 'kept-brine') series({ start: batch.startedAt, acts: measured, after: (act) => ({ kind: 'measure-ph', steps: hasSoured(act) ? phSteps.fallen : phSteps.falling }) });
    else if (stage === 'hold') {
      const start = sweetSince(batch, past);
      series({ start, acts: measured.filter(({ at }) => at >= start), after: () => ({ kind: 'measure-ph', steps: phSteps.waiting }) });
    }
  }
  if (inDrum.has(stage) && !watched('temperature')) steps.push(handTemperatureStep(batch, past, outcomes, now, zone));
  if (!watched('salinity')) {
    const measured = past.filter((act) => isAct('measured')(act) && act.body.quantity === 'salinity');
    if (batch.style === 'kept-brine') series({ start: batch.startedAt, acts: measured, after: () => ({ kind: 'measure-salt', steps: keptSaltSteps }) });
    else steps.push(saltStep(batch, past, measured, change, outcomes, now, zone));
  }
  steps.push(...careSteps(batch, past, outcomes, zone));
  if (inDrum.has(stage)) {
    // Whatever opened the drum was a look, also when it settled another task.
    const looks = { ...outcomes, claimed: () => false };
    steps.push(openStep({ lot: batch.lot, start: batch.startedAt, acts: past.filter(isLook), after: () => ({ kind: 'look', steps: lookSteps }) }, looks, zone));
  }
  if (stage === 'hold') series({ start: sweetSince(batch, past), acts: [], after: () => ({ kind: 'jar', steps: jarSteps }) });
  return steps.filter((step) => step !== null);
};

export const isWatched = (shed: Shed, drum: Slug, channel: Channel): boolean =>
  [...shed.placements.values()].some((placements) => placements.at(-1)?.drum === drum && placements.at(-1)?.channel === channel);

/** Acts for which somebody had the lid off and saw the fruit. */
const opensDrum: ReadonlySet<StoryAct['kind']> = new Set<StoryAct['kind']>(['brine-changed', 'brine-topped-up', 'salt-added', 'acid-added', 'skimmed', 'rinsed', 'tasted', 'observed']);

/** Whoever stirs or presses the fruit under sees it; gas is let out, and ice laid on, with hardly a look. */
const isLook = (act: StoryAct): boolean => opensDrum.has(act.kind) || (isAct('handled')(act) && (act.body.what === 'stirred' || act.body.what === 'pressed-under'));

const hasSoured = (act: StoryAct | null): boolean => act !== null && isAct('measured')(act) && act.body.value + channels.ph.uncertainty <= soured;

const sweetSince = (batch: Batch, past: readonly StoryAct[]): EpochMs => past.filter(isAct('tasted')).find(({ body }) => body.bitterness <= sweetBitterness)?.at ?? batch.startedAt;

/**
 * Salt of the brine poured last: one measurement once it has settled, until one is there or the brine is changed again. Numbered by the
 * brine it is about (the first is 1). Not asked of plain water, nor where the next change comes before the brine has settled.
 */
const saltStep = (batch: Batch, past: readonly StoryAct[], measured: readonly StoryAct[], change: Step | null, outcomes: Outcomes, now: EpochMs, zone: string): Step | null => {
  if (isPlainWater(brineAt(batch, now))) return null;
  const renewals = past.filter(isAct('brine-changed')).filter(({ body }) => (body.fraction ?? 1) >= renewingFraction);
  const poured = renewals.at(-1)?.at ?? batch.startedAt;
  const ordinal = renewals.length + 1;
  const dueAt = firstMorning(poured + saltAfterHours * hourMs, zone);
  if (change !== null && change.dueAt - poured <= saltBeforeNextChangeDays * dayMs + 12 * hourMs) return null;
  const id = stepId(batch.lot, 'measure-salt', ordinal);
  const outcome = outcomes.of(id);
  if (outcome?.kind === 'skipped' || (outcome?.kind === 'done' && (outcome.entry === null || outcomes.standing(outcome.entry) !== undefined))) return null;
  // One taken right after pouring tells what was poured, not what settled.
  if (measured.some(({ at }) => at >= poured + (saltAfterHours / 2) * hourMs)) return null;
  return { id, kind: 'measure-salt', ordinal, dueAt };
};
