import type { DrumFlag, Inspection, LotRecord, RecordListed, RecordPlace } from '#contract';
import { clockTime, dayMonth } from '../format/time.ts';

/** The shape beside the word: what may not leave, what nobody released yet, what is done. In a drum there is nothing to tell by a shape. */
export const placeMarks: Readonly<Record<RecordPlace, DrumFlag | null>> = {
  recalled: 'danger',
  'on hold': 'danger',
  'in drum': null,
  'in jars, not released': 'caution',
  released: 'done',
  'sold out': 'done',
};

export const year = (time: string, zone: string): string => new Intl.DateTimeFormat('en-GB', { year: 'numeric', timeZone: zone }).format(Date.parse(time));

const day = (time: string, zone: string): string => dayMonth(Date.parse(time), zone);

/** `slit · Picual · Barrel 1` */
export const lotFruit = ({ cut, variety, drum }: RecordListed): string => [cut, variety, drum].filter((part) => part !== null).join(' · ');

/** `picked 3 Oct, started 3 Oct, in jars 20 Jan` */
export const lotDates = ({ pickedAt, startedAt, jarredAt }: RecordListed, zone: string): string =>
  [`picked ${day(pickedAt, zone)}`, `started ${day(startedAt, zone)}`, ...(jarredAt === null ? [] : [`in jars ${day(jarredAt, zone)}`])].join(', ');

/** What stands behind the one word: since when, why, how many jars, how long they rest. */
export const placeWords = ({ place, since, by, reason, jars, restsUntil }: RecordListed, zone: string): string =>
  [
    since === null || place === 'sold out' ? null : `since ${day(since, zone)}${by === null ? '' : ` by ${by}`}`,
    reason,
    jars === null ? null : `${String(jars.left)} of ${String(jars.filled)} jars here`,
    restsUntil === null ? null : `resting to ${day(restsUntil, zone)}`,
  ]
    .filter((part) => part !== null)
    .join(', ');

/** What a record lacks, a line each; things nobody wrote down share one. */
export const missingWords = ({ missing }: Pick<LotRecord, 'missing'>): readonly string[] => {
  const unwritten = missing.filter(({ why }) => why === nobodyWrote);
  const told = missing.filter(({ why }) => why !== nobodyWrote).map(({ what, why }) => `${what}: ${why}`);
  return [...(unwritten.length === 0 ? [] : [`Not recorded: ${unwritten.map(({ what }) => what.replace(/ not recorded$/, '')).join('; ')}`]), ...new Set(told)];
};

/** Lines that stand in every record looked at: told once for all, where there is more than one. */
export const commonLines = (records: readonly (readonly string[])[]): readonly string[] => {
  const [first, ...others] = records;
  return first === undefined || others.length === 0 ? [] : first.filter((line) => others.every((lines) => lines.includes(line)));
};

const nobodyWrote = 'nobody has written it down';

/** `today 18:30`, `12 Oct 18:30` */
export const moment = (time: string, now: number, zone: string): string => {
  const at = Date.parse(time);
  return dayMonth(at, zone) === dayMonth(now, zone) && Math.abs(at - now) < 86_400_000 ? `today ${clockTime(at, zone)}` : `${dayMonth(at, zone)} ${clockTime(at, zone)}`;
};

const formWords: Readonly<Record<string, string>> = { json: 'data', html: 'self-checking file', pdf: 'PDF', csv: 'table', trace: 'trace' };
export const formWord = (form: string): string => formWords[form] ?? form;

export const accessWords = ({ state, until, endedAt }: Pick<Inspection, 'state' | 'until' | 'endedAt'>, now: number, zone: string): string => {
  if (state === 'revoked') return `taken back ${moment(endedAt ?? until, now, zone)}`;
  return state === 'over' ? `over since ${moment(until, now, zone)}` : `open to ${moment(until, now, zone)}`;
};

/** A phone that follows such a link reaches itself. */
export const reachesOnlyItself = (link: string): boolean => /^https?:\/\/(localhost|127\.[\d.]+|\[::1\])(:\d+)?(\/|$)/.test(link);
