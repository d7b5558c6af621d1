import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { dayMs, hourMs, type RouteBody } from '#contract';
import { toRfc3339 } from '#domain/units/time.ts';
import { harnessStart, openApiHarness, openShed, warmAlert, type ApiClient, type ApiHarness } from '../helpers/api-harness.ts';

/** Departures from critical limits from the alert to the buyer: 21 CFR 114.89 (what may become of the product) and 114.100 (a log of their own). */
let harness: ApiHarness;
let owner: ApiClient;
let lot: string;
beforeEach(async () => {
  harness = await openApiHarness();
  owner = await harness.as('owner');
  lot = await openShed(harness);
});
afterEach(() => harness.close());

type Entry = RouteBody<'addEntry'>;
const at = (hours = 0): string => toRfc3339(harnessStart + hours * hourMs);
const add = (body: Entry) => owner.call('addEntry', { params: { lot }, body });
const warm = () => harness.collectorWrites({ kind: 'alert-raised', body: warmAlert(harness, lot) });
const coolAgain = () => {
  harness.clock.advance(2 * hourMs);
  const body = { id: warmAlert(harness, lot).id, until: toRfc3339(harness.clock.now()), at: toRfc3339(harness.clock.now()), peak: 33.5 };
  harness.collectorWrites({ kind: 'alert-returned', body: { ...body, id: 'barrel-1-leach-temperature-danger-20261003t120000z' } });
};
const closing = { cause: 'sun on the drum', action: 'ice bottles, shade', disposition: 'no-product-affected', by: 'Maria' } as const;
const close = (body: RouteBody<'closeDeviation'> = closing, number = 'D-1') => owner.call('closeDeviation', { params: { number }, body });

/** Packed at pH 4.1 by all that the packed-jar rule asks for: two jars, two days, a second acid buffer. */
const pack = async (value = 4.1): Promise<void> => {
  await add({ kind: 'measured', at: at(-1), quantity: 'ph', value: 4.1 });
  await add({ kind: 'jarred', at: at(), jars: 60, jarMl: 720, brine: '80 g/L', ingredients: ['olives', 'salt'] });
  for (const [hours, jars] of [[26, ['1', '2']], [75, ['1']]] as const) {
    harness.clock.set(harnessStart + hours * hourMs);
    await owner.call('calibrate', { params: { probe: 'meter-1' }, body: { kind: 'ph', points: [{ ph: 7, mv: 0 }, { ph: 4, mv: 174.5 }, { ph: 4.01, mv: 173.9 }], temperatureC: 20 } });
    for (const jar of jars) await add({ kind: 'jar-ph', at: at(hours), value, instrument: 'meter-1', jar });
  }
};

describe('the log of deviations', () => {
  it('opens one for each excursion of a critical limit, and lists it with its number, worst value and actions', async () => {
    warm();
    await owner.call('alertAction', { params: { id: warmAlert(harness, lot).id }, body: { text: 'shade put up' } });
    await (await harness.as('helper')).call('deviationAction', { params: { number: 'd-1' }, body: { text: 'two ice bottles' } });
    coolAgain();
    const { deviations } = await owner.call('deviations', { query: { state: 'open', lot } });
    expect(deviations).toMatchObject([{ number: 'D-1', lot, limit: 'leach-temperature-danger', worst: 33.5, from: at(), to: at(2), closed: null, actions: [{ text: 'shade put up', by: 'owner' }, { text: 'two ice bottles', by: 'helper' }] }]);
    expect((await owner.call('deviations', { query: { state: 'closed' } })).deviations).toEqual([]);
  });

  it('is closed by the owner, when it is over, with who judged product that is released', async () => {
    warm();
    expect((await owner.refused('closeDeviation', 'wrong-state', { params: { number: 'D-1' }, body: closing })).detail).toContain('still outside');
    coolAgain();
    await (await harness.as('helper')).refused('closeDeviation', 'not-allowed', { params: { number: 'D-1' }, body: closing });
    expect(await owner.refused('closeDeviation', 'does-not-fit', { params: { number: 'D-1' }, body: { ...closing, disposition: 'released' } })).toMatchObject({ errors: [{ path: 'evaluation' }] });
    await owner.refused('closeDeviation', 'does-not-fit', { params: { number: 'D-1' }, body: { ...closing, disposition: 'sold' } });
    await owner.refused('closeDeviation', 'not-found', { params: { number: 'D-2' }, body: closing });
    const closed = await close({ ...closing, disposition: 'released', evaluation: 'A. Mavros, process authority: no effect at 33 °C for two hours' });
    expect(closed.closed).toMatchObject({ disposition: 'released', name: 'Maria', by: 'owner', at: at(2) });
    expect((await owner.call('deviations', { query: { state: 'open' } })).deviations).toEqual([]);
  });

  it('writes the same closing once, and keeps an earlier one readable', async () => {
    warm();
    coolAgain();
    await close();
    await close();
    const again = await close({ ...closing, disposition: 'destroyed' });
    expect(again).toMatchObject({ closed: { disposition: 'destroyed' }, earlierClosings: [{ disposition: 'no-product-affected' }] });
    expect((await owner.call('journal', { query: { limit: 1000 } })).entries.filter(({ kind }) => kind === 'deviation-closed').length).toBe(2);
  });
});

describe('jars leave', () => {
  it('not while a deviation is open, by no exception; when it is closed the packed-jar rule decides', async () => {
    warm();
    coolAgain();
    harness.clock.set(harnessStart);
    await pack();
    const distributed: Entry = { kind: 'distributed', at: at(76), to: 'market', jars: 10 };
    harness.clock.set(harnessStart + 76 * hourMs);
    expect((await owner.refused('addEntry', 'deviation-open', { params: { lot }, body: { kind: 'release', at: at(76), by: 'Maria', exception: 'I know' } })).detail).toContain('D-1 is open');
    await owner.refused('addEntry', 'deviation-open', { params: { lot }, body: distributed });
    await close();
    await add({ kind: 'release', at: at(76), by: 'Maria' });
    await add(distributed);
  });

  it('not when packed jars read above the limit: that opens a deviation by itself, and closing it is no release', async () => {
    await pack(4.4);
    expect((await owner.call('deviations')).deviations).toMatchObject([{ number: 'D-1', quantity: 'jar-ph', worst: 4.4, alert: null, bound: { value: 4.3 } }]);
    await close({ ...closing, disposition: 'reworked' });
    await owner.refused('addEntry', 'packed-jars-outside', { params: { lot }, body: { kind: 'distributed', at: at(75), to: 'market', jars: 1 } });
    await owner.refused('addEntry', 'packed-jar-rule', { params: { lot }, body: { kind: 'release', at: at(75), by: 'Maria' } });
    await add({ kind: 'release', at: at(75), by: 'Maria', exception: 'process authority, letter 12' });
    await add({ kind: 'distributed', at: at(75), to: 'market', jars: 1 });
  });

  it('not after a recall, which lists where they went', async () => {
    await pack();
    await add({ kind: 'distributed', at: at(75), to: 'market', jars: 10 });
    await add({ kind: 'distributed', at: at(75), to: 'Taverna', jars: 4 });
    await (await harness.as('helper')).refused('recallLot', 'not-allowed', { params: { lot }, body: { reason: 'glass' } });
    harness.clock.advance(dayMs);
    const recall = await owner.call('recallLot', { params: { lot }, body: { reason: 'glass in a jar' } });
    expect(recall).toMatchObject({ lot, reason: 'glass in a jar', by: 'owner', lots: [lot], filled: 60, left: 46, out: [{ to: 'market', jars: 10 }, { to: 'Taverna', jars: 4 }] });
    await owner.refused('recallLot', 'recalled', { params: { lot }, body: { reason: 'again' } });
    expect((await owner.refused('addEntry', 'recalled', { params: { lot }, body: { kind: 'distributed', at: toRfc3339(harness.clock.now()), to: 'market', jars: 1 } })).detail).toContain('glass in a jar');
    await owner.refused('addEntry', 'recalled', { params: { lot }, body: { kind: 'release', at: toRfc3339(harness.clock.now()), by: 'Maria', exception: 'e' } });
    // What left before is the truth about that time, and may still be written.
    await add({ kind: 'distributed', at: at(75), to: 'Saturday market', jars: 2 });
    expect((await owner.call('recalls')).recalls).toMatchObject([{ lot, left: 44, out: [{}, {}, { to: 'Saturday market' }] }]);
  });
});
