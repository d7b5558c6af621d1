import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { dayMs, hourMs, type Instrument, type RouteBody } from '#contract';
import { toRfc3339 } from '#domain/units/time.ts';
import { harnessStart, openApiHarness, openShed, type ApiClient, type ApiHarness } from '../helpers/api-harness.ts';

let harness: ApiHarness;
let owner: ApiClient;
let lot: string;
beforeEach(async () => {
  harness = await openApiHarness();
  owner = await harness.as('owner');
  lot = await openShed(harness);
});
afterEach(() => harness.close());

const later = (hours: number): string => {
  harness.clock.set(harnessStart + hours * hourMs);
  return toRfc3339(harness.clock.now());
};
const check = (probe: string, body: RouteBody<'calibrate'>) => owner.call('calibrate', { params: { probe }, body });
/** 58 mV/pH at 25 °C, 98 % of the Nernst slope of 59.16. */
const goodPh: RouteBody<'calibrate'> & { readonly kind: 'ph' } = { kind: 'ph', points: [{ ph: 7, mv: 0, bottle: { lot: 'B7', expiresOn: '2027-01-01', openedOn: '2026-09-01' } }, { ph: 4.01, mv: 173.4 }], temperatureC: 25, asFound: [{ ph: 7, reads: 7.02 }] };
const instrument = async (id: string): Promise<Instrument> => {
  const found = (await owner.call('instruments')).instruments.find((each) => each.id === id);
  if (found === undefined) throw new Error(`no instrument ${id}`);
  return found;
};

describe('instruments', () => {
  it('lists probes in use without a check, and instruments held in the hand once they are added', async () => {
    expect(await instrument('p1')).toMatchObject({ kind: 'probe', uses: [{ measured: 'temperature', notUsable: 'ice point not checked', dueAt: null }], checks: [], doubts: [] });
    const body = { id: 'meter-1', name: 'Pocket meter', measures: 'ph', serial: '77', certificate: { number: 'C1', laboratory: 'Lab', dueOn: '2027-03-01' } } as const;
    expect(await owner.call('addInstrument', { body })).toMatchObject({ id: 'meter-1', name: 'Pocket meter', kind: 'hand', serial: '77', uses: [{ measured: 'ph', notUsable: 'meter not calibrated that day' }] });
    await owner.refused('addInstrument', 'already-exists', { body });
  });

  it('keeps the calibration log: buffers with their bottles, as found, slope and offset, who and when the next is due', async () => {
    expect(await check('meter-1', goodPh)).toMatchObject({ kind: 'ph', by: 'owner', failed: null, points: goodPh.points, asFound: goodPh.asFound });
    const { uses, checks } = await instrument('meter-1');
    expect(uses).toEqual([{ measured: 'ph', notUsable: null, dueAt: toRfc3339(harnessStart + 7 * dayMs) }]);
    expect(checks).toMatchObject([{ kind: 'ph', by: 'owner', failed: null, slopePercent: 98, offsetMv: 0 }]);
    expect(checks[0]?.text).toContain('lot B7');
    expect(checks[0]?.buffers).toEqual([{ ph: 7, lot: 'B7', expiresOn: '2027-01-01', openedOn: '2026-09-01' }, { ph: 4.01, lot: null, expiresOn: null, openedOn: null }]);
    expect(await check('p1', { kind: 'ice-point', readingC: 1.3, referenceC: 0 })).toMatchObject({ failed: 'off by +1.3 °C in ice' });
    expect((await instrument('p1')).uses).toMatchObject([{ notUsable: 'failed its last check: off by +1.3 °C in ice' }]);
    later(1);
    await check('p1', { kind: 'ice-point', readingC: 0.1, referenceC: 0 });
    expect((await instrument('p1')).uses).toMatchObject([{ notUsable: null, dueAt: toRfc3339(harnessStart + hourMs + 31 * dayMs) }]);
  });

  it('lists the results of each lot that a failed check put in doubt, and takes a decision of the owner', async () => {
    await check('meter-1', goodPh);
    const { sequence } = await owner.call('addEntry', { params: { lot }, body: { kind: 'measured', at: later(1), quantity: 'ph', value: 4.2, instrument: 'meter-1' } });
    later(2);
    const failed = (await check('meter-1', { kind: 'buffer-check', ph: 4.01, reads: 4.2 })) as { sequence: number };
    const body = { check: failed.sequence, lot, decision: 'discarded', reason: 'the buffer was fresh' } as const;
    expect((await instrument('meter-1')).doubts).toMatchObject([{ check: failed.sequence, why: 'buffer 4.01 read 4.20', from: toRfc3339(harnessStart), to: later(2), lots: [{ lot, entries: [sequence], watched: false, decided: null }] }]);
    await (await harness.as('helper')).refused('decideDoubt', 'not-allowed', { params: { instrument: 'meter-1' }, body });
    await owner.refused('decideDoubt', 'does-not-fit', { params: { instrument: 'meter-1' }, body: { ...body, check: 1 } });
    await owner.refused('decideDoubt', 'does-not-fit', { params: { instrument: 'meter-1' }, body: { ...body, lot: 'other' } });
    expect((await owner.call('decideDoubt', { params: { instrument: 'meter-1' }, body })).doubts).toMatchObject([{ lots: [{ decided: { decision: 'discarded', reason: 'the buffer was fresh', by: 'owner' } }] }]);
  });

  it('marks in the story what is no evidence, and why', async () => {
    const write = (hours: number, over: object) => owner.call('addEntry', { params: { lot }, body: { kind: 'measured', at: later(hours), quantity: 'ph', value: 4.2, ...over } });
    await write(1, {});
    await write(2, { instrument: 'meter-1' });
    later(2.5);
    await check('meter-1', goodPh);
    await write(3, { instrument: 'meter-1' });
    await write(4, { quantity: 'salinity', value: 70, instrument: 'refractometer' });
    const { entries } = await owner.call('batch', { params: { lot } });
    expect(entries.map(({ notUsable }) => notUsable ?? null)).toEqual(['no instrument named', 'meter not calibrated that day', null, null]);
  });

  it('lists the lots a probe watched since its last good ice point', async () => {
    await check('p1', { kind: 'ice-point', readingC: 0, referenceC: 0, at: toRfc3339(harnessStart - 5 * dayMs) });
    later(3);
    await check('p1', { kind: 'ice-point', readingC: 2, referenceC: 0 });
    expect((await instrument('p1')).doubts).toMatchObject([{ measured: 'temperature', from: toRfc3339(harnessStart - 5 * dayMs), lots: [{ lot, entries: [], watched: true }] }]);
  });

  it('goes by the numbers of the site, within bounds', async () => {
    await check('p1', { kind: 'ice-point', readingC: 0.8, referenceC: 0 });
    expect((await instrument('p1')).checks).toMatchObject([{ failed: null }]);
    await (await harness.as('helper')).refused('setCheckSettings', 'not-allowed', { body: { icePointWithinC: 0.5 } });
    await owner.refused('setCheckSettings', 'does-not-fit', { body: { icePointWithinC: 5 } });
    await owner.refused('setCheckSettings', 'does-not-fit', { body: { other: 5 } });
    const { settings } = await owner.call('setCheckSettings', { body: { icePointWithinC: 0.5 } });
    expect(settings.find(({ name }) => name === 'icePointWithinC')).toMatchObject({ value: 0.5, byDefault: 1, source: 'set by the owner' });
    expect((await instrument('p1')).checks).toMatchObject([{ failed: 'off by +0.8 °C in ice' }]);
  });
});
