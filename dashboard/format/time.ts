/** Times as the site's wall clock shows them. Formatters are kept: making one costs more than all its uses. */
const kept = new Map<string, Intl.DateTimeFormat>();

const formatter = (zone: string, options: Intl.DateTimeFormatOptions): Intl.DateTimeFormat => {
  const key = `${zone} ${JSON.stringify(options)}`;
  let found = kept.get(key);
  if (found === undefined) {
    found = new Intl.DateTimeFormat('en-GB', { ...options, timeZone: zone, hourCycle: 'h23' });
    kept.set(key, found);
  }
  return found;
};

/** 14:24 */
export const clockTime = (t: number, zone: string): string => formatter(zone, { hour: '2-digit', minute: '2-digit' }).format(t);

/** 3 May, never parted at the end of a line. */
export const dayMonth = (t: number, zone: string): string => formatter(zone, { day: 'numeric', month: 'short' }).format(t).replace('Sept', 'Sep').replace(' ', '\u00a0');

/** Fri */
export const weekdayShort = (t: number, zone: string): string => formatter(zone, { weekday: 'short' }).format(t);

/** Fri 11 June */
export const longDay = (t: number, zone: string): string => `${weekdayShort(t, zone)} ${formatter(zone, { day: 'numeric', month: 'long' }).format(t)}`;

/** 18 – 29 Jun, or 28 Jun – 3 Jul */
export const daySpan = (from: number, to: number, zone: string): string => {
  const first = dayMonth(from, zone);
  const last = dayMonth(to, zone);
  if (first === last) return first;
  const [day, month] = first.split('\u00a0');
  return month === last.split('\u00a0')[1] ? `${day ?? ''} – ${last}` : `${first} – ${last}`;
};

export interface CalendarDay {
  readonly year: number;
  readonly month: number;
  readonly day: number;
}

const fields = (t: number, zone: string): Readonly<Record<string, number>> => {
  const parts = formatter(zone, { year: 'numeric', month: 'numeric', day: 'numeric', hour: 'numeric', minute: 'numeric', second: 'numeric' }).formatToParts(t);
  return Object.fromEntries(parts.map((part) => [part.type, Number(part.value)]));
};

export const calendarDay = (t: number, zone: string): CalendarDay => {
  const { year = 0, month = 0, day = 0 } = fields(t, zone);
  return { year, month, day };
};

const zoneOffset = (t: number, zone: string): number => {
  const { year = 0, month = 1, day = 1, hour = 0, minute = 0, second = 0 } = fields(t, zone);
  return Date.UTC(year, month - 1, day, hour, minute, second) - Math.floor(t / 1_000) * 1_000;
};

/** Epoch ms of a local wall-clock time; across a daylight-saving change the offset is looked up twice. */
export const fromLocal = (zone: string, year: number, month: number, day: number, hour = 0, minute = 0): number => {
  const asUtc = Date.UTC(year, month - 1, day, hour, minute);
  const guess = asUtc - zoneOffset(asUtc, zone);
  return asUtc - zoneOffset(guess, zone);
};

export const startOfDay = (t: number, zone: string): number => {
  const { year, month, day } = calendarDay(t, zone);
  return fromLocal(zone, year, month, day);
};

/** `2027-06-11T14:24`, what a date-time field holds, in the zone of the site. */
export const localField = (t: number, zone: string): string => {
  const { year = 0, month = 0, day = 0, hour = 0, minute = 0 } = fields(t, zone);
  const two = (n: number): string => String(n).padStart(2, '0');
  return `${String(year)}-${two(month)}-${two(day)}T${two(hour)}:${two(minute)}`;
};

/** The moment a date-time field (or date field) names in the zone of the site; null when it is not filled. */
export const fromLocalField = (text: string, zone: string): number | null => {
  const match = /^(\d{4})-(\d{2})-(\d{2})(?:T(\d{2}):(\d{2}))?/.exec(text);
  if (match === null) return null;
  const [, year, month, day, hour = '0', minute = '0'] = match;
  return fromLocal(zone, Number(year), Number(month), Number(day), Number(hour), Number(minute));
};

/** Whether two moments fall on one local day, and how a past moment is best named: `04:12`, `Tue 04:12`, `3 May 04:12`. */
export const pastMoment = (t: number, now: number, zone: string): string => {
  const time = clockTime(t, zone);
  const today = startOfDay(now, zone);
  if (t >= today && t <= now + 60_000) return time;
  if (t < now && now - t < 6 * 86_400_000) return `${weekdayShort(t, zone)} ${time}`;
  return `${dayMonth(t, zone)} ${time}`;
};

/** When something is due, in local days: `today`, `tomorrow`, `Thursday`, `22 Jun`, `2 days ago`. */
export const dueDay = (t: number, now: number, zone: string): string => {
  const days = Math.round((startOfDay(t, zone) - startOfDay(now, zone)) / 86_400_000);
  if (days === 0) return 'today';
  if (days === 1) return 'tomorrow';
  if (days === -1) return 'since yesterday';
  if (days < 0) return `since ${dayMonth(t, zone)}`;
  if (days < 7) return formatter(zone, { weekday: 'long' }).format(t);
  return dayMonth(t, zone);
};
