import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { calendarPath, daySheetPath, howToCheckPath, labelPath, recallPaperPath, recordForms, recordPath, routes, type GivenInspection, type RouteName, type RouteShape, type SealedRecord } from '#contract';
import { hourMs, minuteMs, toRfc3339 } from '#domain/units/time.ts';
import { expectProblem, openApiHarness, openShed, type ApiClient, type ApiHarness } from '../helpers/api-harness.ts';
import { makeSiteKey } from '../helpers/lot-shed.ts';

/** A code for somebody outside: which doors it opens, which it does not, when it ends, and what is written down of it. */
let harness: ApiHarness;
let owner: ApiClient;
let lot: string;
let other: string;
beforeEach(async () => {
  harness = await openApiHarness();
  makeSiteKey(harness);
  lot = await openShed(harness);
  owner = await harness.as('owner');
  await owner.call('addDrum', { body: { id: 'barrel-2', name: 'Barrel 2', volumeL: 60 } });
  const at = toRfc3339(harness.clock.now());
  other = (await owner.call('openBatch', { body: { drum: 'barrel-2', pickedAt: at, startedAt: at, cut: 'whole', style: 'kept-brine', maturity: 'black', fruitKg: 30, brineL: 27, saltGPerL: 80 } })).lot;
});
afterEach(() => harness.close());

const give = (hours = 4, lots = [lot]): Promise<GivenInspection> => owner.call('giveInspection', { body: { name: 'Market office', lots, hours } });
const enter = async (code: string): Promise<ApiClient> => {
  const visitor = harness.stranger();
  await visitor.call('openInspection', { body: { code } });
  return visitor;
};
const looks = async (): Promise<unknown[]> => (await owner.call('inspections')).inspections.flatMap(({ seen }) => seen.map(({ lot: which, form }) => [which, form]));

describe('a code', () => {
  it('opens the records of its lots in every form that needs no built page, and the list of them', async () => {
    const inspector = await enter((await give()).code);
    const list = await inspector.call('records');
    expect(list.lots.map((each) => each.lot)).toEqual([lot]);
    expect(list).toMatchObject({ reader: 'Market office', until: toRfc3339(harness.machine.now() + 4 * hourMs) });
    for (const form of ['json', 'pdf', 'csv'] as const) expect((await inspector.fetch(`/api${recordPath(lot, form)}`)).status).toBe(200);
    expect((await inspector.fetch(`/api${howToCheckPath}`)).status).toBe(200);
  });

  it('opens no record of another lot, and does not tell whether there is one', async () => {
    const inspector = await enter((await give()).code);
    for (const form of recordForms) {
      const there = expectProblem(await inspector.fetch(`/api${recordPath(other, form)}`), 'not-allowed');
      const nowhere = expectProblem(await inspector.fetch(`/api${recordPath('ZZZ-9', form)}`), 'not-allowed');
      expect(there.detail.replace(other, '…')).toBe(nowhere.detail.replace('ZZZ-9', '…'));
    }
  });

  it('opens nothing else: every route of the table that is not on this list is refused', async () => {
    const inspector = await enter((await give()).code);
    const open: readonly RouteName[] = ['health', 'session', 'signIn', 'signOut', 'setUp', 'openInspection'];
    const allowed: readonly RouteName[] = [...open, 'records', 'trace'];
    const refused = (Object.keys(routes) as RouteName[]).filter((name) => !allowed.includes(name));
    expect(refused.length).toBeGreaterThan(40);
    for (const name of refused) {
      const { method, path } = routes[name] as RouteShape;
      const answer = await inspector.fetch(`/api${path.replaceAll(/\{\w+\}/g, lot)}`, { method: method.toUpperCase() });
      expect({ name, status: answer.status }).toEqual({ name, status: 403 });
    }
    for (const path of ['/live', daySheetPath, '/compare.csv', '/season.csv', labelPath(lot), recallPaperPath(1)]) expect({ path, status: (await inspector.fetch(`/api${path}`)).status }).toEqual({ path, status: 403 });
    expect((await inspector.fetch(`/api${calendarPath}`)).status).toBe(401);
    // Of health no more than a stranger is told.
    expect(Object.keys(await inspector.call('health')).toSorted()).toEqual(['status', 'version']);
  });

  it('traces its lots, and nothing else', async () => {
    const inspector = await enter((await give()).code);
    expect(await inspector.call('trace', { query: { lot } })).toMatchObject({ of: { kind: 'lot', id: lot } });
    await inspector.refused('trace', 'not-allowed', { query: { lot: other } });
    for (const query of [{ probe: 'p1' }, { ingredient: 'salt-1' }, { pick: 'P-1' }]) await inspector.refused('trace', 'not-allowed', { query });
    expect(await looks()).toEqual([[lot, 'trace']]);
  });

  it('is read aloud: case, spaces and the dash do not count; any other code opens nothing', async () => {
    const { code } = await give();
    expect(code).toMatch(/^[A-HJKMNP-Z2-9]{4}-[A-HJKMNP-Z2-9]{4}$/);
    await enter(` ${code.toLowerCase().replace('-', ' ')} `);
    const wrong = `${code.slice(0, -1)}${code.endsWith('A') ? 'B' : 'A'}`;
    await harness.stranger().refused('openInspection', 'wrong-code', { body: { code: wrong } });
  });

  it('ends at its time, also for whoever is inside already', async () => {
    const { code } = await give(4);
    const inspector = await enter(code);
    harness.machine.advance(4 * hourMs - 1);
    expect((await inspector.call('records')).lots).toHaveLength(1);
    harness.machine.advance(1);
    await inspector.refused('records', 'not-signed-in');
    expectProblem(await inspector.fetch(`/api${recordPath(lot, 'json')}`), 'not-signed-in');
    await harness.stranger().refused('openInspection', 'wrong-code', { body: { code } });
    expect((await owner.call('inspections')).inspections).toMatchObject([{ state: 'over', endedAt: null }]);
  });

  it('ends when it is taken back, and stays so after a restart', async () => {
    const { code, id } = await give();
    const kept = await give(4, [other]);
    const inspector = await enter(code);
    await owner.call('revokeInspection', { params: { id } });
    await inspector.refused('records', 'not-signed-in');
    await harness.restart();
    await inspector.refused('records', 'not-signed-in');
    await harness.stranger().refused('openInspection', 'wrong-code', { body: { code } });
    expect((await (await enter(kept.code)).call('records')).lots.map((each) => each.lot)).toEqual([other]);
    expect((await owner.call('inspections')).inspections.map(({ state }) => state)).toEqual(['open', 'revoked']);
    await owner.refused('revokeInspection', 'not-found', { params: { id: 'nothing' } });
  });

  it('cannot be guessed: ten wrong ones from an address, and then nobody is let in from there for a while', async () => {
    const { code } = await give();
    const visitor = harness.stranger();
    for (let tries = 0; tries < 10; tries += 1) await visitor.refused('openInspection', 'wrong-code', { body: { code: `AAAA-AAA${tries}` } });
    expect((await visitor.refused('openInspection', 'too-many-tries', { body: { code } })).status).toBe(429);
  });

  it('is known by nothing that is written down', async () => {
    const { code, link } = await give();
    expect(link).toBe(`${harness.url}/inspect#${code}`);
    const bare = code.replace('-', '');
    expect(JSON.stringify(await owner.call('journal', { query: { limit: 500 } }))).not.toContain(bare);
    expect(JSON.stringify(await owner.call('inspections'))).not.toContain(code);
  });

  it('is for lots that are there, with an end', async () => {
    await owner.refused('giveInspection', 'not-found', { body: { name: 'Office', lots: ['ZZZ-9'], hours: 4 } });
    await owner.refused('giveInspection', 'does-not-fit', { body: { name: 'Office', lots: [lot], hours: 32 * 24 } });
    await owner.refused('giveInspection', 'does-not-fit', { body: { name: 'Office', lots: [], hours: 4 } });
    expect((await owner.call('inspections')).inspections).toEqual([]);
  });
});

describe('what an inspector looks at', () => {
  it('is written down once for a lot and form in a quarter of an hour', async () => {
    const inspector = await enter((await give(4, [lot, other])).code);
    const look = (which: string, form: 'json' | 'csv'): Promise<unknown> => inspector.fetch(`/api${recordPath(which, form)}`);
    await look(lot, 'json');
    await look(lot, 'json');
    harness.clock.advance(15 * minuteMs - 1);
    await look(lot, 'json');
    expect(await looks()).toEqual([[lot, 'json']]);
    await look(lot, 'csv');
    await look(other, 'json');
    harness.clock.advance(1);
    await look(lot, 'json');
    expect(await looks()).toEqual([[lot, 'json'], [other, 'json'], [lot, 'csv'], [lot, 'json']]);
  });

  it('changes nothing in the record', async () => {
    const inspector = await enter((await give()).code);
    const record = async (): Promise<unknown> => ((await inspector.fetch(`/api${recordPath(lot, 'json')}`)).body as SealedRecord).record;
    const before = await record();
    expect(await looks()).toHaveLength(1);
    expect(await record()).toEqual(before);
  });

  it('is nobody\'s business where people of the shed look', async () => {
    await owner.fetch(`/api${recordPath(lot, 'json')}`);
    const { entries } = await owner.call('journal', { query: { limit: 500 } });
    expect(entries.filter(({ kind }) => kind === 'record-seen')).toEqual([]);
  });
});

describe('an account of an inspector', () => {
  it('reads the lots it was given, with no end, and is told of by its name', async () => {
    const inspector = await harness.as('inspector');
    expectProblem(await inspector.fetch(`/api${recordPath(lot, 'json')}`), 'not-allowed');
    harness.service.access.inspections.setLots('inspector', [lot.toLowerCase()]);
    expect(await inspector.call('records')).toMatchObject({ reader: 'inspector', until: null, lots: [{ lot }] });
    expect((await inspector.fetch(`/api${recordPath(lot, 'json')}`)).status).toBe(200);
    expectProblem(await inspector.fetch(`/api${recordPath(other, 'json')}`), 'not-allowed');
    expect((await owner.call('inspections')).others).toMatchObject([{ lot, form: 'json', by: 'inspector' }]);
  });
});
