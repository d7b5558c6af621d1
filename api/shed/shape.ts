import type { Alert as AlertShape, Forecast as ForecastShape, Late, StoryEntry, Task as TaskShape } from '#contract';
import type { costOfLateness } from '#domain/cure/cost-of-lateness.ts';
import type { Forecast as Readiness } from '#domain/cure/forecast.ts';
import { lateText } from '#domain/cure/late-text.ts';
import type { Task } from '#domain/cure/tasks.ts';
import type { Shed, StoryAct } from '#domain/journal/shed.ts';
import { actNow } from '#domain/rules/act-now.ts';
import type { Alert } from '#domain/rules/alert.ts';
import { hourMs, toRfc3339, type EpochMs } from '#domain/units/time.ts';

/** From the domain's shapes to the contract's: times become RFC 3339, names stay. */
const timeOrNull = (at: EpochMs | null): string | null => (at === null ? null : toRfc3339(at));

export const personOf = (who: string): string => who.replace(/^user:/, '');

export const alertShape = (alert: Alert, { alertActions }: Pick<Shed, 'alertActions'>): AlertShape => ({
  id: alert.id,
  drum: alert.drum,
  lot: alert.lot,
  rule: alert.rule,
  quantity: alert.quantity,
  priority: alert.priority,
  state: alert.state,
  since: toRfc3339(alert.since),
  raisedAt: toRfc3339(alert.raisedAt),
  returnedAt: timeOrNull(alert.returnedAt),
  acknowledgedBy: alert.acknowledgedBy === null ? null : personOf(alert.acknowledgedBy),
  value: alert.value,
  peak: alert.peak,
  shelf: alert.shelf === null ? null : { ...alert.shelf, by: personOf(alert.shelf.by), until: toRfc3339(alert.shelf.until) },
  actions: (alertActions.get(alert.id) ?? []).map(({ at, by, text, disposition }) => ({ at: toRfc3339(at), by: personOf(by), text, disposition })),
  limit: alert.limit,
  act: actNow(alert),
  text: alert.text,
  advice: alert.advice,
});

export const forecastShape = (forecast: Readiness): ForecastShape =>
  'unknown' in forecast ? forecast : { readyFrom: toRfc3339(forecast.readyFrom), readyLikely: toRfc3339(forecast.readyLikely), readyTo: toRfc3339(forecast.readyTo), basis: forecast.basis };

/** Rounded to what the model can tell, so that a figure changes when there is something new to say. */
export const lateShape = (cost: ReturnType<typeof costOfLateness>): Late => {
  if ('unknown' in cost) return { days: null, text: `What a late change costs is not known: ${cost.unknown}.`, guess: true, outcomes: [] };
  const outcomes = cost.outcomes.map(({ readyLikely, laterDays, lowDays, highDays, brineL, saltG, choice }) => ({
    choice,
    readyLikely: readyLikely === null ? null : toRfc3339(Math.round(readyLikely / hourMs) * hourMs),
    laterDays: tenth(laterDays),
    lowDays: tenth(lowDays),
    highDays: tenth(highDays),
    brineL: Math.round(brineL),
    saltG: Math.round(saltG / 10) * 10,
  }));
  return { days: outcomes.find(({ choice }) => choice === 'day-late')?.laterDays ?? null, text: lateText(cost), guess: cost.isGuess, outcomes };
};

/** Without a minus before nothing. */
const tenth = (value: number | null): number | null => (value === null ? null : Math.round(value * 10) / 10 + 0);

export const taskShape = ({ dueAt, ...task }: Task): TaskShape => ({ ...task, dueAt: toRfc3339(dueAt) });

export const storyShape = (act: StoryAct): StoryEntry => {
  const { lot: _lot, at: _at, key: _key, ...body } = act.body;
  return { sequence: act.sequence, kind: act.kind, at: toRfc3339(act.at), writtenAt: toRfc3339(act.writtenAt), by: personOf(act.by), body, standing: act.standing, corrects: act.corrects, correctedBy: act.correctedBy };
};
