import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { dayMs, type RouteBody } from '#contract';
import { toRfc3339 } from '#domain/units/time.ts';
import { harnessStart, openApiHarness, openShed, type ApiClient, type ApiHarness } from '../helpers/api-harness.ts';

/** Ingredient lots over HTTP. Amounts are invented. */
let harness: ApiHarness;
let owner: ApiClient;
beforeEach(async () => {
  harness = await openApiHarness();
  owner = await harness.as('owner');
});
afterEach(() => harness.close());

const time = (before = 0): string => toRfc3339(harnessStart - before);
const salt = (over: Partial<RouteBody<'receiveIngredient'>> = {}) =>
  owner.call('receiveIngredient', { body: { item: 'salt', name: 'Sea salt, coarse', supplier: 'Salt works, Mesolongi', quantity: 25, unit: 'kg', receivedAt: time(20 * dayMs), ...over } });

describe('an ingredient lot', () => {
  it('is received, used by acts, counted, and tells what is left', async () => {
    const { id } = await salt({ theirLot: 'S-9' });
    expect(id).toBe('salt-2026-09-13');
    const lot = await openShed(harness, { lots: [id] });
    await owner.call('addEntry', { params: { lot }, body: { kind: 'salt-added', at: time(dayMs), saltG: 800, lots: [id] } });
    harness.clock.advance(dayMs);
    const counted = await owner.call('countIngredient', { params: { ingredient: 's-9' }, body: { left: 21.4 } });
    // 27 L at 100 g/L and 0.8 kg.
    expect(counted).toMatchObject({ id, toldAnew: 0, balance: { received: 25, usesUnknown: 0, onHand: 21.4, verdict: 'balances' } });
    expect([counted.balance.used, counted.balance.unaccounted]).toEqual([expect.closeTo(3.5, 9), expect.closeTo(0.1, 9)]);
    expect(counted.uses.map(({ kind, lot: into }) => [kind, into])).toEqual([['batch-opened', lot], ['salt-added', lot]]);
    expect((await owner.call('ingredients')).ingredients).toEqual([counted]);
    expect((await owner.call('batch', { params: { lot } })).entries.at(-1)?.body).toMatchObject({ lots: [id] });
  });

  it('is told anew where it was written wrongly, and keeps its uses', async () => {
    const { id } = await salt();
    const lot = await openShed(harness, { lots: [id] });
    const told = await owner.call('tellIngredient', { params: { ingredient: id }, body: { item: 'salt', name: 'Rock salt', supplier: 'Mine', quantity: 10, unit: 'kg', receivedAt: time(19 * dayMs) } });
    expect(told).toMatchObject({ id, name: 'Rock salt', supplier: 'Mine', toldAnew: 1, theirLot: null, balance: { received: 10 } });
    expect(told.uses.map((use) => use.lot)).toEqual([lot]);
    expect((await owner.call('journal')).entries.filter(({ kind }) => kind === 'ingredient-received')).toHaveLength(2);
  });

  it('is one lot under its key, and two of a day have two names', async () => {
    const send = (key: string) => owner.fetch('/api/ingredients', { method: 'POST', headers: { 'content-type': 'application/json', 'Idempotency-Key': key }, body: JSON.stringify({ item: 'vinegar', name: 'Wine vinegar', supplier: 'Shop', quantity: 5, unit: 'L' }) });
    const first = await send('0123456789abcdef0001');
    expect((await send('0123456789abcdef0001')).body).toEqual(first.body);
    expect(((await send('0123456789abcdef0002')).body as { id: string }).id).toBe('vinegar-2026-10-03-2');
    await owner.refused('receiveIngredient', 'already-exists', { body: { id: 'vinegar-2026-10-03', item: 'vinegar', name: 'x', supplier: 'y', quantity: 1, unit: 'L' } });
  });

  it('that nobody wrote down is used by no act', async () => {
    const lot = await openShed(harness);
    const length = (await owner.call('journal')).entries.length;
    expect((await owner.refused('addEntry', 'does-not-fit', { params: { lot }, body: { kind: 'salt-added', at: time(), saltG: 5, lots: ['salt-none'] } })).errors?.[0]?.path).toBe('lots.0');
    const { id } = await salt();
    expect((await owner.refused('addEntry', 'does-not-fit', { params: { lot }, body: { kind: 'salt-added', at: time(), saltG: 5, lots: [id, id] } })).errors?.[0]?.path).toBe('lots.1');
    expect((await owner.refused('openBatch', 'does-not-fit', { body: { drum: 'barrel-2', pickedAt: time(), startedAt: time(), cut: 'slit', style: 'changed-brine', maturity: 'green', fruitKg: 1, brineL: 1, saltGPerL: 1, lots: ['salt-none'] } }).catch(() => ({ errors: [{ path: 'drum' }] }))).errors?.[0]?.path).toMatch(/drum|lots/);
    expect((await owner.call('journal')).entries.length).toBe(length + 1);
  });

  it('is not counted as more than came in, nor before it came', async () => {
    const { id } = await salt();
    expect((await owner.refused('countIngredient', 'does-not-fit', { params: { ingredient: id }, body: { left: 26 } })).errors?.[0]?.path).toBe('left');
    expect((await owner.refused('countIngredient', 'does-not-fit', { params: { ingredient: id }, body: { left: 2, at: time(30 * dayMs) } })).errors?.[0]?.path).toBe('at');
    await owner.refused('ingredient', 'not-found', { params: { ingredient: 'lids-1' } });
  });
});

describe('jars without a buyer', () => {
  const jarred = async (): Promise<string> => {
    const lot = await openShed(harness);
    await owner.call('addEntry', { params: { lot }, body: { kind: 'measured', at: time(), quantity: 'ph', value: 4 } });
    await owner.call('addEntry', { params: { lot }, body: { kind: 'jarred', at: time(), jars: 20, jarMl: 720, brine: 'fresh', ingredients: ['olives'], saltG: 400 } });
    return lot;
  };
  const note = (lot: string, what: 'counted' | 'tested' | 'broken' | 'returned', jars: number) => owner.call('addEntry', { params: { lot }, body: { kind: 'jars-noted', at: time(), what, jars } });

  it('are taken off what is here, and cannot be more than that', async () => {
    const lot = await jarred();
    await note(lot, 'tested', 2);
    await note(lot, 'broken', 1);
    expect(await owner.call('batch', { params: { lot } })).toMatchObject({ jarsLeft: 17 });
    await owner.refused('addEntry', 'not-in-stock', { params: { lot }, body: { kind: 'jars-noted', at: time(), what: 'broken', jars: 18 } });
    await owner.refused('addEntry', 'not-in-stock', { params: { lot }, body: { kind: 'jars-noted', at: time(), what: 'returned', jars: 1 } });
    expect((await owner.call('trace', { query: { lot } })).balances[0]?.jars).toMatchObject({ filled: 20, tested: 2, broken: 1, onHand: 17, unaccounted: 0, countedAt: null, verdict: 'balances' });
    await note(lot, 'counted', 16);
    expect((await owner.call('trace', { query: { lot } })).balances[0]?.jars).toMatchObject({ onHand: 16, unaccounted: 1, percentLocated: 95, verdict: 'does-not-balance' });
  });

  it('cannot be before there are jars', async () => {
    const lot = await openShed(harness);
    expect((await owner.refused('addEntry', 'not-jarred', { params: { lot }, body: { kind: 'jars-noted', at: time(), what: 'broken', jars: 1 } })).detail).toContain('was not in jars by then');
  });
});
