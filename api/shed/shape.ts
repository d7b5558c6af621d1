import type { Alert as AlertShape, StoryEntry, Task as TaskShape } from '#contract';
import type { Task } from '#domain/cure/tasks.ts';
import type { StoryAct } from '#domain/journal/shed.ts';
import { actNow } from '#domain/rules/act-now.ts';
import type { Alert } from '#domain/rules/alert.ts';
import { toRfc3339, type EpochMs } from '#domain/units/time.ts';

/** From the domain's shapes to the contract's: times become RFC 3339, names stay. */
const timeOrNull = (at: EpochMs | null): string | null => (at === null ? null : toRfc3339(at));

export const personOf = (who: string): string => who.replace(/^user:/, '');

export const alertShape = (alert: Alert): AlertShape => ({
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
  limit: alert.limit,
  act: actNow(alert),
  text: alert.text,
  advice: alert.advice,
});

export const taskShape = ({ dueAt, ...task }: Task): TaskShape => ({ ...task, dueAt: toRfc3339(dueAt) });

export const storyShape = (act: StoryAct): StoryEntry => {
  const { lot: _lot, at: _at, key: _key, ...body } = act.body;
  return { sequence: act.sequence, kind: act.kind, at: toRfc3339(act.at), writtenAt: toRfc3339(act.writtenAt), by: personOf(act.by), body, standing: act.standing, corrects: act.corrects, correctedBy: act.correctedBy };
};
