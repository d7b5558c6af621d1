import { ICalCalendar, ICalEventBusyStatus, ICalEventTransparency } from 'ical-generator';
import { tzlib_get_ical_block } from 'timezones-ical-library';
import type { Task } from '#contract';
import { localMorning } from '#domain/cure/schedule.ts';
import { localDate } from '#domain/cure/stage.ts';
import type { EpochMs } from '#domain/units/time.ts';

/**
 * Tasks as a calendar (RFC 5545). Papers may import Node, the contract, the domain and the package that writes their format.
 *
 * Each task is an event of a quarter of an hour on its local morning, not a to-do: the calendars of phones show events of a feed that
 * is subscribed to, and most of them leave out VTODO. A feed is read anew as a whole, so a task that was moved, done or skipped is
 * simply told at its new time or no longer told; its UID stays the same for as long as it is open.
 */
export interface CalendarFacts {
  readonly site: string;
  readonly siteName: string;
  readonly zone: string;
  readonly now: EpochMs;
}

export const calendarOf = (tasks: readonly Task[], { site, siteName, zone, now }: CalendarFacts): string => {
  const timezone = timezoneOf(zone);
  const calendar = new ICalCalendar({
    name: `Brineward: ${siteName}`,
    prodId: { company: 'Brineward', product: 'Tasks', language: 'EN' },
    // The zone is that of the events; of the whole calendar it would also be that of its stamps, which are UTC (section 3.8.7.2).
    timezone: timezone === null ? null : { name: null, generator: () => timezone.block },
  });
  const stamp = Temporal.Instant.fromEpochMilliseconds(now);
  for (const task of tasks) {
    const start = Temporal.Instant.fromEpochMilliseconds(shownAt(task, zone, now));
    calendar.createEvent({
      id: `${task.id}@${site}.brineward`,
      stamp,
      timezone: timezone?.name ?? null,
      start,
      end: start.add({ minutes: eventMinutes }),
      summary: `${task.overdue ? 'Overdue: ' : ''}${task.title}, ${drumIn(task)}`,
      description: [task.text, task.late?.text, task.late?.hygiene?.text].filter((part) => part !== undefined).join('\n'),
      // A quarter of an hour in the shed keeps nobody from another appointment.
      transparency: ICalEventTransparency.TRANSPARENT,
      busystatus: ICalEventBusyStatus.FREE,
    });
  }
  return calendar.toString();
};

const eventMinutes = 15;

const drumIn = ({ drum, lot }: Task): string => `${drum} (${lot})`;

/** What is past is due today: on its own day nobody would look for it any more. */
const shownAt = ({ dueAt }: Task, zone: string, now: EpochMs): EpochMs => {
  const due = Date.parse(dueAt);
  const today = localDate(now, zone);
  return Temporal.PlainDate.compare(localDate(due, zone), today) < 0 ? localMorning(today, zone) : due;
};

/** The rules of a zone, as a calendar needs them beside its times; null where they are not known: times are then told in UTC. */
const timezoneOf = (zone: string): { readonly name: string; readonly block: string } | null => {
  const [block] = tzlib_get_ical_block(zone);
  // A zone of another name for the same clock is told by the name its rules stand under.
  const name = block === undefined ? undefined : /^TZID:(.+)$/m.exec(block)?.[1]?.trim();
  return block === undefined || name === undefined ? null : { name, block };
};
