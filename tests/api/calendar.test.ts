import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { dayMs, hourMs } from '#contract';
import { localDate } from '#domain/cure/stage.ts';
import { toRfc3339 } from '#domain/units/time.ts';
import { calendarOf } from '../../api/papers/calendar.ts';
import { expectProblem, harnessStart, openApiHarness, openShed, type ApiClient, type ApiHarness } from '../helpers/api-harness.ts';
import { readCalendar, unfold } from '../helpers/icalendar.ts';

let harness: ApiHarness;
afterEach(() => harness.close());
const open = async (zone = 'UTC', batch: Parameters<typeof openShed>[1] = {}): Promise<{ owner: ApiClient; lot: string }> => {
  harness = await openApiHarness({ zone });
  return { lot: await openShed(harness, batch), owner: await harness.as('owner') };
};
const subscribe = async (client: ApiClient): Promise<() => Promise<string>> => {
  const { path } = await client.call('makeToken', { body: { purpose: 'calendar' } });
  return async () => {
    const { status, headers, body } = await harness.stranger().fetch(path);
    expect({ status, type: headers.get('content-type') }).toEqual({ status: 200, type: 'text/calendar; charset=utf-8' });
    return String(body);
  };
};

describe('the calendar, read by another program', () => {
  it('holds every task once, at its time, for a quarter of an hour', async () => {
    const { owner } = await open();
    const read = await subscribe(owner);
    const { tasks } = await owner.call('tasks');
    const { version, prodId, name, events } = readCalendar(await read());
    expect({ version, prodId, name }).toEqual({ version: '2.0', prodId: '-//Brineward//Tasks//EN', name: 'Brineward: Home' });
    expect(events.map(({ uid }) => uid).toSorted()).toEqual(tasks.map(({ id }) => `${id}@home.brineward`).toSorted());
    for (const task of tasks) {
      const event = events.find(({ uid }) => uid === `${task.id}@home.brineward`);
      expect(event).toMatchObject({ minutes: 15, stamped: true, summary: `${task.overdue ? 'Overdue: ' : ''}${task.title}, Barrel 1 (${task.lot})` });
      expect(event?.description.split('\n')[0]).toBe(task.text);
      // What is past is shown this morning: on its own day nobody looks any more.
      const today = Date.UTC(2026, 9, 3, 8);
      expect(event?.startAt).toBe(Math.max(Date.parse(task.dueAt), today));
    }
    expect(tasks.some(({ overdue }) => overdue)).toBe(true);
  });

  // IANA time zone database: Athens puts its clocks back on 25 October 2026, from UTC+3 to UTC+2.
  it('keeps to the clock on the wall over a change of the clocks, with the rules of the zone', async () => {
    const { owner, lot } = await open('Europe/Athens');
    const read = await subscribe(owner);
    const changed = async (at: number): Promise<void> => void (await owner.call('addEntry', { params: { lot }, body: { kind: 'brine-changed', at: toRfc3339(at), brineL: 27, saltGPerL: 100 } }));
    const change = async () => readCalendar(await read()).events.find(({ uid }) => uid.includes('change-brine'));
    await owner.call('setSchedule', { params: { style: 'changed-brine' }, body: { medium: 'brine', steps: { afterDays: [], thenEveryDays: [14] } } });
    await changed(harnessStart);
    expect(await change()).toMatchObject({ local: '2026-10-17T08:00:00', zone: 'Europe/Athens', startAt: Date.UTC(2026, 9, 17, 5) });
    await owner.call('setSchedule', { params: { style: 'changed-brine' }, body: { medium: 'brine', steps: { afterDays: [], thenEveryDays: [28] } } });
    expect(await change()).toMatchObject({ local: '2026-10-31T08:00:00', zone: 'Europe/Athens', startAt: Date.UTC(2026, 9, 31, 6) });
    const text = await read();
    expect(readCalendar(text).zones).toEqual(['Europe/Athens']);
    // RFC 5545, section 3.8.7.2: a stamp is in UTC; section 3.6: properties of the calendar come before its components.
    const lines = unfold(text);
    expect(lines.filter((line) => line.startsWith('DTSTAMP'))).toEqual(lines.filter((line) => line === 'BEGIN:VEVENT').map(() => 'DTSTAMP:20261003T120000Z'));
    expect(lines[lines.indexOf('END:VTIMEZONE') + 1]).toBe('BEGIN:VEVENT');
  });

  it('keeps the UID of a task that has moved, and tells one that is done no more', async () => {
    const { owner } = await open();
    const read = await subscribe(owner);
    const find = async (kind: string) => readCalendar(await read()).events.find(({ uid }) => uid.includes(kind));
    const before = await find('change-brine');
    harness.clock.advance(3 * dayMs);
    const after = await find('change-brine');
    expect(after?.uid).toBe(before?.uid);
    expect((after?.startAt ?? 0) - (before?.startAt ?? 0)).toBe(3 * dayMs);
    await owner.call('finishTask', { params: { id: (before?.uid ?? '').replace('@home.brineward', '') }, body: { brineL: 27, saltGPerL: 100 } });
    expect((await find('change-brine'))?.uid).not.toBe(before?.uid);
  });

  it('says in the description what a late change costs, and the hours of hygiene apart', async () => {
    const { owner } = await open('UTC', { style: 'water-then-brine', saltGPerL: 0 });
    const { events } = readCalendar(await (await subscribe(owner))());
    expect(events.find(({ uid }) => uid.includes('change-water'))?.description).toMatch(/^Change the water.*\nA day later.*\nPlain water holds nothing back: at most 24 h/);
  });
});

describe('the calendar as text', () => {
  // RFC 5545, section 3.1: the example of a folded line; at most 75 octets a line, CRLF at each end.
  it('is folded as the standard folds: the unfolding that reads its example reads ours, umlauts and all', async () => {
    expect(unfold('DESCRIPTION:This is a lo\r\n ng description\r\n  that exists on a long line.')).toEqual(['DESCRIPTION:This is a long description that exists on a long line.']);
    harness = await openApiHarness();
    const text = calendarOf([{ id: 'x-1', drum: 'Fässchen mit Ελιές, ganz hinten; \\links', lot: 'HO26-AW', kind: 'look', dueAt: toRfc3339(harnessStart), overdue: false, title: 'Look', text: 'Öl, Essig; Salz: \\ '.repeat(12), needs: {} }], { site: 'home', siteName: 'Öl', zone: 'Europe/Berlin', now: harnessStart });
    const lines = text.split('\r\n');
    expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
    expect(Math.max(...lines.map((line) => Buffer.byteLength(line)))).toBeLessThanOrEqual(75);
    expect(lines.some((line) => line.startsWith(' '))).toBe(true);
    // Section 3.3.11: backslash, semicolon and comma are escaped, a colon is not.
    expect(unfold(text)).toContain('SUMMARY:Look\\, Fässchen mit Ελιές\\, ganz hinten\\; \\\\links (HO26-AW)');
    expect(readCalendar(text).events[0]).toMatchObject({ summary: 'Look, Fässchen mit Ελιές, ganz hinten; \\links (HO26-AW)' });
    expect(readCalendar(text).events[0]?.description).toContain('Öl, Essig; Salz: \\ Öl');
  });

  it('tells a zone by the name its rules stand under', async () => {
    harness = await openApiHarness();
    const text = calendarOf([{ id: 'x-1', drum: 'd', lot: 'l', kind: 'look', dueAt: '2026-10-04T02:30:00.000Z', overdue: false, title: 'Look', text: 'x', needs: {} }], { site: 'home', siteName: 'Home', zone: 'Asia/Calcutta', now: harnessStart });
    expect(readCalendar(text)).toMatchObject({ zones: ['Asia/Kolkata'], events: [{ local: '2026-10-04T08:00:00', zone: 'Asia/Kolkata', startAt: Date.UTC(2026, 9, 4, 2, 30) }] });
  });

  it('is empty and still a calendar where nothing is to be done', async () => {
    harness = await openApiHarness();
    expect(readCalendar(await (await subscribe(await harness.as('owner')))()).events).toEqual([]);
  });
});

describe('its token', () => {
  it('is told once, kept as a digest, and named in the journal without its secret', async () => {
    const { owner } = await open();
    const made = await owner.call('makeToken', { body: { purpose: 'calendar' } });
    expect(made).toMatchObject({ user: 'owner', purpose: 'calendar', path: `/api/tasks.ics?token=${made.token}` });
    expect(made.token).toMatch(/^[\w-]{43}$/);
    const { token: secret, path: _path, ...rest } = made;
    expect(await owner.call('tokens')).toEqual({ tokens: [rest] });
    const { entries } = await owner.call('journal', { query: { limit: 1_000 } });
    expect(entries.at(-1)).toMatchObject({ kind: 'token-made', who: 'user:owner', body: { id: made.id, user: 'owner', purpose: 'calendar' } });
    expect(JSON.stringify(entries)).not.toContain(secret);
    for (const file of ['access.db', 'access.db-wal', 'book.db', 'book.db-wal']) expect(readFileSync(join(harness.directory, file)).includes(secret)).toBe(false);
  });

  it('opens the calendar and nothing else; a session does not open the calendar', async () => {
    const { owner } = await open();
    const { token } = await owner.call('makeToken', { body: { purpose: 'calendar' } });
    const stranger = harness.stranger();
    for (const path of ['/api/tasks', '/api/journal', '/api/drums']) expectProblem(await stranger.fetch(path, { headers: { authorization: `Bearer ${token}` } }), 'not-signed-in');
    for (const path of ['/api/tasks.ics', '/api/tasks.ics?token=', `/api/tasks.ics?token=${'a'.repeat(43)}`, `/api/tasks.ics?token=${token}&token=${token}`, `/api/tasks.ics?token=${token}x`]) {
      expectProblem(await stranger.fetch(path), 'not-signed-in');
      expectProblem(await owner.fetch(path), 'not-signed-in');
    }
  });

  it('is over once it is revoked, by its user or by the owner; another helper does not even see it', async () => {
    const { owner } = await open();
    const helper = await harness.as('helper');
    const [mine, other] = [await helper.call('makeToken', { body: { purpose: 'calendar' } }), await owner.call('makeToken', { body: { purpose: 'calendar' } })];
    expect((await helper.call('tokens')).tokens.map(({ id }) => id)).toEqual([mine.id]);
    expect((await owner.call('tokens')).tokens).toHaveLength(2);
    await helper.refused('revokeToken', 'not-found', { params: { id: other.id } });
    await owner.call('revokeToken', { params: { id: mine.id } });
    expectProblem(await harness.stranger().fetch(mine.path), 'not-signed-in');
    expect((await harness.stranger().fetch(other.path)).status).toBe(200);
    expect((await owner.call('journal', { query: { limit: 1_000 } })).entries.at(-1)).toMatchObject({ kind: 'token-revoked', who: 'user:owner', body: { id: mine.id, user: 'helper' } });
    await owner.refused('revokeToken', 'not-found', { params: { id: mine.id } });
  });

  it('ends with its user, and outlives a restart', async () => {
    const { owner } = await open();
    const { path } = await (await harness.as('helper')).call('makeToken', { body: { purpose: 'calendar' } });
    await harness.restart();
    expect((await harness.stranger().fetch(path)).status).toBe(200);
    expect(harness.service.access.removeUser('helper')).toBe(true);
    expectProblem(await harness.stranger().fetch(path), 'not-signed-in');
    expect((await owner.call('tokens')).tokens).toEqual([]);
  });

  it('is one of at most twenty a user', async () => {
    const { owner } = await open();
    for (let count = 0; count < 20; count += 1) await owner.call('makeToken', { body: { purpose: 'calendar' } });
    await owner.refused('makeToken', 'wrong-state', { body: { purpose: 'calendar' } });
    const { user } = await (await harness.as('helper')).call('makeToken', { body: { purpose: 'calendar' } });
    expect(user).toBe('helper');
  });

  it('is not made without a journal entry', async () => {
    const { owner } = await open();
    const { append } = harness.service.model.book;
    Object.assign(harness.service.model.book, { append: () => { throw new Error('disk full'); } });
    expect((await owner.fetch('/api/tokens', { method: 'POST', headers: { 'content-type': 'application/json' }, body: '{"purpose":"calendar"}' })).status).toBeGreaterThanOrEqual(500);
    Object.assign(harness.service.model.book, { append });
    expect((await owner.call('tokens')).tokens).toEqual([]);
    harness.faults.length = 0;
  });
});

it('the morning of a site is not that of the machine', async () => {
  const { owner } = await open('Australia/Adelaide');
  const { events } = readCalendar(await (await subscribe(owner))());
  for (const { local, startAt } of events) {
    expect(local.slice(11)).toBe('08:00:00');
    expect(local.slice(0, 10)).toBe(localDate(startAt, 'Australia/Adelaide').toString());
    expect(startAt).toBeGreaterThan(harnessStart - dayMs - hourMs);
  }
  expect(events.length).toBeGreaterThan(0);
});
