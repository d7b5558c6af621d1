import type { Alert, Drum, NowValue, Task } from '#contract';
import { dueDay, pastMoment } from '../format/time.ts';
import { inWords, showLimit, showMass, showVolume, type UnitChoice } from '../format/units.ts';
import { inOrder, isStanding } from './alerts.ts';
import { isMeasured } from './value.ts';

/** What a drum wants next, in a few words for the end of its row: a standing alert first, then what is due, then what waits to be seen. */
export interface Next {
  readonly mark: 'due' | 'late' | 'none';
  readonly title: string;
  readonly detail: string;
}

export interface NextFrame {
  readonly now: number;
  readonly zone: string;
  readonly units: UnitChoice;
}

const sentenceCase = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

export const needsWords = (needs: Task['needs'], units: UnitChoice): string => {
  const brine = needs.brineL === undefined ? '' : inWords(showVolume(needs.brineL, units));
  const salt = needs.saltG === undefined ? '' : inWords(showMass(needs.saltG, units));
  if (brine === '') return salt === '' ? '' : `${salt} salt`;
  return salt === '' ? brine : `${brine} with ${salt}`;
};

export const taskWords = (task: Task, { now, zone, units }: NextFrame): Next => {
  const due = Date.parse(task.dueAt);
  const day = dueDay(due, now, zone);
  const when = task.overdue ? (day === 'today' ? `was due ${pastMoment(due, now, zone)}` : `overdue ${day}`) : day;
  return {
    mark: task.overdue ? 'late' : due <= now || day === 'today' ? 'due' : 'none',
    title: task.title,
    detail: [when, needsWords(task.needs, units)].filter((part) => part !== '').join('\u00a0·\u00a0'),
  };
};

const withoutStop = (text: string): string => text.replace(/\.$/, '');

const measured = new Set(['Cel', 'pH', 'g/L']);

/** How sure it is that the value is beyond the limit: by what is measured now, or else by what raised the alert. */
const certainty = (alert: Alert, current: NowValue | undefined): '' | 'may be ' | 'was ' => {
  const isCurrent = current !== undefined && isMeasured(current) && current.quality === 'good';
  const value = isCurrent ? current.value : alert.value;
  const limit = alert.limit.value;
  if (value === null || limit === null) return '';
  const past = alert.limit.side === 'low' ? limit - value : value - limit;
  if (past > 0) return '';
  return isCurrent && past + current.uncertainty <= 0 ? 'was ' : 'may be ';
};

/** What is only foretold gives way to what is due now. */
const isForetold = ({ rule }: Alert): boolean => rule.endsWith('-forecast');

/** How bad and since when, short; the drum's own page says the rest. A reading within its uncertainty of the limit only may be beyond it. */
const alertWords = (alert: Alert, current: NowValue | undefined, { now, zone, units }: NextFrame): Next => {
  const since = `since ${pastMoment(Date.parse(alert.since), now, zone)}`;
  if (isForetold(alert)) return { mark: 'none', title: alert.act, detail: withoutStop(alert.text) };
  if (alert.rule.endsWith('-silent')) return { mark: 'none', title: alert.act, detail: `nothing heard ${since}` };
  const { value: limit, side, unit } = alert.limit;
  if (limit === null || side === null || !measured.has(unit)) return { mark: 'none', title: alert.act, detail: `${withoutStop(alert.text)}, ${since}` };
  const beyond = `${certainty(alert, current)}${side === 'high' ? 'over' : 'under'} ${inWords(showLimit(limit, unit, units))}`;
  return { mark: 'none', title: alert.act, detail: sentenceCase(`${beyond} ${since}`) };
};

export const nextFor = (drum: Pick<Drum, 'alerts' | 'nextTask' | 'batch' | 'now'>, frame: NextFrame): Next => {
  const alerts = inOrder(drum.alerts);
  const current = alerts.filter((alert) => isStanding(alert) && alert.priority !== 'note');
  const standing = current.find((alert) => !isForetold(alert));
  const task = drum.nextTask === null ? null : taskWords(drum.nextTask, frame);
  // An alert that only repeats the overdue task would hide its amounts.
  if (standing !== undefined && !(task?.mark === 'late' && standing.rule === 'change-overdue')) return alertWords(standing, drum.now[standing.quantity], frame);
  if (task !== null && task.mark !== 'none') return task;
  const foretold = current.find(isForetold);
  if (foretold !== undefined) return alertWords(foretold, undefined, frame);
  const returned = alerts.find(({ state }) => state === 'returned');
  if (returned !== undefined) return { mark: 'none', title: 'Inside again', detail: `not yet seen: ${withoutStop(returned.text)}` };
  if (task !== null) return task;
  if (drum.batch === null) return { mark: 'none', title: 'Open a batch', detail: 'when the next pick is in' };
  return { mark: 'none', title: '', detail: 'nothing due' };
};
