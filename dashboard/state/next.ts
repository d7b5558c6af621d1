import type { Alert, Drum, Task } from '#contract';
import { dueDay, pastMoment } from '../format/time.ts';
import { inWords, showMass, showVolume, type UnitChoice } from '../format/units.ts';
import { inOrder, isStanding } from './alerts.ts';

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

/** The first thing to do of an advice, without its reasons. */
export const firstClause = (advice: string): string => {
  const end = advice.search(/[.;:](?:\s|$)/);
  return sentenceCase(end < 0 ? advice : advice.slice(0, end));
};

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
    mark: task.overdue ? 'late' : day === 'today' ? 'due' : 'none',
    title: sentenceCase(task.text),
    detail: [when, needsWords(task.needs, units)].filter((part) => part !== '').join(' · '),
  };
};

const alertWords = (alert: Alert): Next => ({ mark: 'none', title: firstClause(alert.advice), detail: sentenceCase(alert.text) });

export const nextFor = (drum: Pick<Drum, 'alerts' | 'nextTask' | 'batch'>, frame: NextFrame): Next => {
  const alerts = inOrder(drum.alerts);
  const standing = alerts.find((alert) => isStanding(alert) && alert.priority !== 'note');
  const task = drum.nextTask === null ? null : taskWords(drum.nextTask, frame);
  // An alert that only repeats the due task would hide its amounts.
  if (standing !== undefined && !(task !== null && task.mark !== 'none' && standing.rule.startsWith('due'))) return alertWords(standing);
  if (task !== null && task.mark !== 'none') return task;
  const returned = alerts.find(({ state }) => state === 'returned');
  if (returned !== undefined) return { mark: 'none', title: 'Back inside', detail: `${sentenceCase(returned.text)}; not yet seen` };
  if (task !== null) return task;
  if (drum.batch === null) return { mark: 'none', title: 'Open a batch', detail: 'when the next pick is in' };
  return { mark: 'none', title: 'Nothing due', detail: '' };
};
