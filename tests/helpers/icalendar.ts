import ICAL from 'ical.js';

/** An iCalendar stream (RFC 5545) as another program reads it. */
export interface ReadEvent {
  readonly uid: string;
  readonly summary: string;
  readonly description: string;
  /** As told: the clock on the wall, and its zone. */
  readonly local: string;
  readonly zone: string;
  readonly startAt: number;
  readonly minutes: number;
  readonly stamped: boolean;
}

export const readCalendar = (text: string): { readonly version: string; readonly prodId: string; readonly name: string; readonly zones: readonly string[]; readonly events: readonly ReadEvent[] } => {
  const calendar = new ICAL.Component(ICAL.parse(text) as unknown[]);
  const zones = calendar.getAllSubcomponents('vtimezone').map((component) => new ICAL.Timezone(component));
  ICAL.TimezoneService.reset();
  for (const zone of zones) ICAL.TimezoneService.register(zone);
  const value = (name: string): string => String(calendar.getFirstPropertyValue(name));
  return {
    version: value('version'),
    prodId: value('prodid'),
    name: value('x-wr-calname'),
    zones: zones.map(({ tzid }) => tzid),
    events: calendar.getAllSubcomponents('vevent').map((component) => {
      const event = new ICAL.Event(component);
      const start = event.startDate;
      return {
        uid: event.uid,
        summary: event.summary,
        description: event.description,
        local: start.toString(),
        zone: String(component.getFirstProperty('dtstart')?.getParameter('tzid') ?? 'UTC'),
        startAt: start.toUnixTime() * 1_000,
        minutes: event.duration.toSeconds() / 60,
        stamped: component.getFirstPropertyValue('dtstamp') !== null,
      };
    }),
  };
};

/** RFC 5545, section 3.1: a long line goes on after CRLF and one white space. */
export const unfold = (text: string): string[] => text.replaceAll(/\r\n[ \t]/g, '').split('\r\n');
