import { describe, expect, it } from 'vitest';
import { dueAnnouncements, failingPrefix, type Due } from '#domain/announce/plan.ts';
import type { AnnouncedBody } from '#domain/announce/announced.ts';
import { usualRoute, type Route } from '#domain/announce/outlet.ts';
import { messageOf } from '#domain/announce/words.ts';
import type { AlertPriority } from '#domain/rules/alert.ts';
import { hourMs, minuteMs, toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { createShedBook, openDrum, type ShedBook } from '../../helpers/shed-book.ts';

/** Who is told what, when. Quiet hours, reminders and the flood by the issue's own words: high is never muted; ten in ten minutes are one digest. */
const noon = Date.UTC(2026, 9, 3, 12);
const zone = 'UTC';

const raise = (book: ShedBook, id: string, at: EpochMs, priority: AlertPriority = 'medium'): void => {
  const body = { id, rule: 'leach-temperature-high', drum: 'barrel-1', lot: null, quantity: 'temperature', priority, since: toRfc3339(at), at: toRfc3339(at), value: 26, limit: { value: 25, unit: 'Cel', source: 'a test', side: 'high' as const }, text: `${id} is warm.`, advice: 'Shade it.' };
  book.write('alert-raised', body, at);
};

const shedWith = (route: Partial<Route> = {}): ShedBook => {
  const book = createShedBook();
  openDrum(book, noon - hourMs);
  book.write('outlet-set', { id: 'anna', name: 'Anna', kind: 'mail', to: 'anna@example.org', server: { host: 'mail.example.org', port: 465, security: 'tls', user: null, from: 'shed@example.org' } }, noon - hourMs);
  book.write('route-set', { outlet: 'anna', ...usualRoute, ...route }, noon - hourMs);
  return book;
};

const told = (book: ShedBook, { outlet, what, alerts, seals }: Due, at: EpochMs, result: AnnouncedBody['result'] = 'sent'): void => {
  const sealsTo = seals.at(-1);
  book.write('announced', { delivery: `d${at}`, outlet: outlet.id, what, to: outlet.to, alerts: alerts.map(({ id, excursions }) => ({ id, excursion: excursions.length })), ...(sealsTo === undefined ? {} : { sealsTo }), at: toRfc3339(at), lateS: 0, attempts: 1, result, detail: null }, at);
};

/** What is due, told as soon as it is. */
const tellAll = (book: ShedBook, at: EpochMs): string[] =>
  dueAnnouncements(book.shed, at, zone).map((due) => {
    told(book, due, at);
    return `${due.what} ${due.alerts.map(({ id }) => id).join(' ')}`.trim();
  });

describe('what is told', () => {
  it('each alert once, to whoever wants its priority, until the next time outside', () => {
    const book = shedWith({ remindMinutes: null });
    raise(book, 'a', noon);
    raise(book, 'low', noon, 'low');
    raise(book, 'note', noon, 'note');
    expect(tellAll(book, noon)).toEqual(['alerts a']);
    expect(tellAll(book, noon + 9 * hourMs)).toEqual([]);
    book.write('alert-returned', { id: 'a', until: toRfc3339(noon), at: toRfc3339(noon), peak: 27 }, noon);
    expect(tellAll(book, noon + 9 * hourMs)).toEqual([]);
    raise(book, 'a', noon + 10 * hourMs);
    expect(tellAll(book, noon + 10 * hourMs)).toEqual(['alerts a']);
  });

  it('one that comes and goes is not told every minute', () => {
    const book = shedWith();
    raise(book, 'a', noon);
    expect(tellAll(book, noon)).toEqual(['alerts a']);
    const again = noon + minuteMs;
    book.write('alert-returned', { id: 'a', until: toRfc3339(again), at: toRfc3339(again), peak: 27 }, again);
    raise(book, 'a', again);
    expect(tellAll(book, again)).toEqual([]);
    expect(tellAll(book, noon + 10 * minuteMs)).toEqual(['alerts a']);
  });

  it('again and again until somebody has seen it, and then no more', () => {
    const book = shedWith({ remindMinutes: 30 });
    raise(book, 'a', noon);
    tellAll(book, noon);
    expect(tellAll(book, noon + 29 * minuteMs)).toEqual([]);
    expect(tellAll(book, noon + 30 * minuteMs)).toEqual(['reminder a']);
    expect(tellAll(book, noon + 59 * minuteMs)).toEqual([]);
    expect(tellAll(book, noon + 60 * minuteMs)).toEqual(['reminder a']);
    book.write('alert-acknowledged', { id: 'a' }, noon + 61 * minuteMs);
    expect(tellAll(book, noon + 9 * hourMs)).toEqual([]);
  });

  it('nothing of what is on the shelf, seen already, or about this very outlet', () => {
    const book = shedWith();
    raise(book, 'shelved', noon);
    raise(book, 'seen', noon);
    raise(book, `${failingPrefix('anna')}x`, noon);
    raise(book, `${failingPrefix('ben')}x`, noon);
    book.write('alert-shelved', { id: 'shelved', until: toRfc3339(noon + hourMs), reason: 'known' }, noon);
    book.write('alert-acknowledged', { id: 'seen' }, noon);
    expect(tellAll(book, noon)).toEqual([`alerts ${failingPrefix('ben')}x`]);
  });

  it('in quiet hours high alerts only; the others when they end, and they say that they are late and why', () => {
    const book = shedWith({ quiet: { from: '22:00', to: '06:00' }, remindMinutes: 60 });
    const night = Date.UTC(2026, 9, 3, 23);
    raise(book, 'medium', night);
    raise(book, 'high', night, 'high');
    expect(tellAll(book, night)).toEqual(['alerts high']);
    expect(tellAll(book, night + hourMs)).toEqual(['reminder high']);
    const morning = Date.UTC(2026, 9, 4, 6);
    expect(tellAll(book, morning - 1)).toEqual(['reminder high']);
    const [due] = dueAnnouncements(book.shed, morning, zone);
    expect(due?.alerts.map(({ id }) => id)).toEqual(['medium']);
    if (due !== undefined) expect(messageOf(due, { site: 'Home', zone, now: morning, sealLines: [] }).text).toContain('LATE by 7 h: raised Saturday 3 October 23:00; it was kept for the end of the quiet hours.');
  });

  it('what failed is still due; what is given up is not', () => {
    const book = shedWith({ remindMinutes: null });
    raise(book, 'a', noon);
    const [due] = dueAnnouncements(book.shed, noon, zone);
    expect(due).toBeDefined();
    if (due === undefined) return;
    told(book, due, noon, 'failed');
    expect(dueAnnouncements(book.shed, noon, zone)).toHaveLength(1);
    told(book, due, noon, 'given-up');
    expect(dueAnnouncements(book.shed, noon, zone)).toEqual([]);
  });

  it('what stood before the outlet was set is told, and says so', () => {
    const book = createShedBook();
    openDrum(book, noon - 9 * hourMs);
    raise(book, 'old', noon - 8 * hourMs);
    book.write('outlet-set', { id: 'hook', name: 'Hook', kind: 'webhook', to: 'example.org' }, noon);
    const [due] = dueAnnouncements(book.shed, noon, zone);
    expect(due?.alerts).toHaveLength(1);
    if (due !== undefined) expect(messageOf(due, { site: 'Home', zone, now: noon, sealLines: [] }).text).toContain('LATE by 8 h: raised Saturday 3 October 04:00; this way of telling was set up later.');
  });
});

describe('the seals of days', () => {
  const seal = (book: ShedBook, day: string, at: EpochMs): number =>
    book.write('day-sealed', { day, from: `${day}T00:00:00.000Z`, to: toRfc3339(Date.parse(`${day}T00:00:00.000Z`) + 24 * hourMs), head: { sequence: 1, hash: '' }, blocks: [], readings: 0, publicKey: '', signature: '' } as never, at);

  it('go out once a day by mail, all that are new in one, and none from before the outlet was set', () => {
    const book = createShedBook();
    seal(book, '2026-10-01', noon);
    book.write('outlet-set', { id: 'anna', name: 'Anna', kind: 'mail', to: 'anna@example.org', server: { host: 'mail.example.org', port: 465, security: 'tls', user: null, from: 'shed@example.org' } }, noon);
    expect(dueAnnouncements(book.shed, noon, zone)).toEqual([]);
    const entries = [seal(book, '2026-10-02', noon), seal(book, '2026-10-03', noon)];
    const [due] = dueAnnouncements(book.shed, noon, zone);
    expect(due).toMatchObject({ what: 'seals', seals: entries });
    if (due !== undefined) told(book, due, noon);
    const next = seal(book, '2026-10-04', noon + hourMs);
    expect(dueAnnouncements(book.shed, noon + 19 * hourMs, zone)).toEqual([]);
    expect(dueAnnouncements(book.shed, noon + 24 * hourMs, zone)).toMatchObject([{ seals: [next] }]);
    book.write('route-set', { outlet: 'anna', ...usualRoute, seals: false }, noon + 24 * hourMs);
    expect(dueAnnouncements(book.shed, noon + 24 * hourMs, zone)).toEqual([]);
  });
});

describe('a flood', () => {
  it('is one digest, not ten messages, and the next waits ten minutes', () => {
    const book = shedWith({ remindMinutes: null });
    const messages: string[] = [];
    for (let index = 0; index < 30; index += 1) {
      raise(book, `a${index}`, noon + index * 10_000);
      messages.push(...tellAll(book, noon + index * 10_000));
    }
    // Nine as they came; from the tenth on they wait for ten minutes after the last message.
    expect(messages).toHaveLength(9);
    const lastAt = noon + 8 * 10_000;
    expect(tellAll(book, lastAt + 10 * minuteMs - 1)).toEqual([]);
    const [digest, ...rest] = tellAll(book, lastAt + 10 * minuteMs);
    expect(rest).toEqual([]);
    expect(digest?.split(' ')).toHaveLength(1 + 21);
    expect(digest).toMatch(/^(digest|alerts) a9 /);
  });

  it('ten at once are a digest at once', () => {
    const book = shedWith();
    for (let index = 0; index < 10; index += 1) raise(book, `a${index}`, noon);
    expect(dueAnnouncements(book.shed, noon, zone).map(({ what, alerts }) => [what, alerts.length])).toEqual([['digest', 10]]);
  });

  it('a high alert waits a minute at most', () => {
    const book = shedWith();
    for (let index = 0; index < 10; index += 1) raise(book, `a${index}`, noon);
    tellAll(book, noon);
    raise(book, 'high', noon + 1_000, 'high');
    expect(tellAll(book, noon + minuteMs - 1)).toEqual([]);
    expect(tellAll(book, noon + minuteMs)).toEqual(['digest high']);
  });
});
