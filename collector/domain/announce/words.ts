import { weekdayName, dayMonthName } from '../units/day-words.ts';
import { hourMs, minuteMs, type EpochMs } from '../units/time.ts';
import { isQuiet } from './quiet-hours.ts';
import type { Due } from './plan.ts';
import type { Alert } from '../rules/alert.ts';

/** A message in words: what is wrong, how bad, what to do now. */
export interface Message {
  readonly subject: string;
  readonly text: string;
}

export interface WordsContext {
  readonly site: string;
  readonly zone: string;
  readonly now: EpochMs;
  /** The line of each seal to tell. */
  readonly sealLines: readonly string[];
}

/** A message that comes this long after its time says so, and why. */
const lateAfterMs = 5 * minuteMs;

/** How long after it was due a message is sent; 0 where it is in time. */
export const lateMs = ({ dueAt }: Pick<Due, 'dueAt'>, now: EpochMs): number => (now - dueAt > lateAfterMs ? now - dueAt : 0);

export const messageOf = (due: Due, context: WordsContext): Message => {
  const { site } = context;
  switch (due.what) {
    case 'test':
      return { subject: `${site}: a test`, text: `This is a test of ${due.outlet.name}, sent because somebody asked for it. Nothing is wrong in the shed by this message.\n` };
    case 'seals':
      return {
        subject: `${site}: seal of ${due.seals.length === 1 ? 'a day' : `${due.seals.length} days`}`,
        text: `Keep this mail. With its lines anyone can tell later that no reading of these days and no entry of the journal before them was changed or cut off.\n\n${context.sealLines.join('\n')}\n`,
      };
    case 'reminder':
      return { subject: `${site}: not yet seen: ${headOf(due.alerts)}`, text: bodyOf(due, context, 'Nobody has pressed "I have seen this" yet.') };
    case 'digest':
      return { subject: `${site}: ${due.alerts.length} alerts at once`, text: bodyOf(due, context, 'Many alerts came up within a few minutes. They are told together, the gravest first; look for one cause.') };
    case 'alerts':
      return { subject: `${site}: ${headOf(due.alerts)}`, text: bodyOf(due, context, null) };
  }
};

const rank: Readonly<Record<Alert['priority'], number>> = { high: 0, medium: 1, low: 2, note: 3 };

const gravestFirst = (alerts: readonly Alert[]): readonly Alert[] => alerts.toSorted((one, other) => rank[one.priority] - rank[other.priority] || one.raisedAt - other.raisedAt);

const headOf = (alerts: readonly Alert[]): string => {
  const [first, ...others] = gravestFirst(alerts);
  return `${first?.text ?? ''}${others.length === 0 ? '' : ` And ${others.length} more.`}`;
};

const bodyOf = (due: Due, context: WordsContext, opening: string | null): string =>
  [...(opening === null ? [] : [opening]), ...gravestFirst(due.alerts).map((alert) => alertLines(alert, due, context)), 'Sent by Brineward. Where anything smells or looks wrong do not taste; local rules decide.', ''].join('\n\n');

const alertLines = (alert: Alert, { outlet, what }: Due, { zone, now }: WordsContext): string => {
  const last = alert.excursions.at(-1);
  const from = last?.from ?? alert.since;
  const span = last === undefined || last.to === null ? `Since ${moment(from, zone)}.` : `From ${moment(from, zone)} to ${moment(last.to, zone)}; it is back inside, and nobody has seen it yet.`;
  const late = what === 'reminder' ? null : lateWords(alert, outlet, now, zone);
  return [`${alert.text} (${alert.priority} priority${alert.lot === null ? '' : `, lot ${alert.lot}`})`, ...(late === null ? [] : [late]), span, `Limit from: ${alert.limit.source}.`, `Do now: ${alert.advice}`].join('\n');
};

/** Nothing is told late without saying so. */
const lateWords = (alert: Alert, { route, setAt }: Due['outlet'], now: EpochMs, zone: string): string | null => {
  const knownAt = Math.max(alert.raisedAt, alert.excursions.length > 1 ? (alert.excursions.at(-1)?.from ?? alert.raisedAt) : alert.raisedAt);
  if (now - knownAt <= lateAfterMs) return null;
  const why = knownAt < setAt ? 'this way of telling was set up later' : alert.priority !== 'high' && isQuiet(route.quiet, knownAt, zone) ? 'it was kept for the end of the quiet hours' : 'it could not be told before';
  return `LATE by ${spanWords(now - knownAt)}: raised ${moment(knownAt, zone)}; ${why}.`;
};

const spanWords = (ms: number): string => (ms < hourMs ? `${Math.round(ms / minuteMs)} min` : ms < 48 * hourMs ? `${Math.round(ms / hourMs)} h` : `${Math.round(ms / (24 * hourMs))} days`);

const moment = (at: EpochMs, zone: string): string => {
  const local = Temporal.Instant.fromEpochMilliseconds(at).toZonedDateTimeISO(zone);
  return `${weekdayName(local.toPlainDate())} ${dayMonthName(local.toPlainDate())} ${local.toPlainTime().toString({ smallestUnit: 'minute' })}`;
};
