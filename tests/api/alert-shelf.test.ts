import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { minuteMs } from '#contract';
import { toRfc3339 } from '#domain/units/time.ts';
import { harnessStart, openApiHarness, openShed, warmAlert, type ApiClient, type ApiHarness } from '../helpers/api-harness.ts';
import { until } from '../helpers/until.ts';

let harness: ApiHarness;
let owner: ApiClient;
let id: string;
beforeEach(async () => {
  harness = await openApiHarness();
  owner = await harness.as('owner');
  const body = warmAlert(harness, await openShed(harness));
  id = body.id;
  harness.collectorWrites({ kind: 'alert-raised', body });
});
afterEach(() => harness.close());

const params = (): { readonly id: string } => ({ id });
const shelve = (client = owner) => client.call('shelve', { params: params(), body: { minutes: 90, reason: 'the door was open' } });
const goBack = () => harness.collectorWrites({ kind: 'alert-returned', body: { id, until: toRfc3339(harness.clock.now()), at: toRfc3339(harness.clock.now()), peak: 32 } });

describe('an alert put aside', () => {
  it('says by whom, until when and why, and is still an alert that is not normal', async () => {
    expect(await shelve(await harness.as('helper'))).toMatchObject({ state: 'shelved', shelf: { by: 'helper', until: toRfc3339(harnessStart + 90 * minuteMs), reason: 'the door was open' } });
    expect((await owner.call('alerts')).alerts).toMatchObject([{ id, state: 'shelved' }]);
    expect((await owner.call('drums')).drums[0]).toMatchObject({ flag: { state: 'caution', word: 'put aside' } });
    await owner.refused('shelve', 'wrong-state', { params: params(), body: { minutes: 1, reason: 'again' } });
  });

  // IEC 62682 leaves what follows to the condition: what is still outside is announced again, what is not is normal.
  it('comes back as its condition is then', async () => {
    await shelve();
    expect(await owner.call('unshelve', { params: params() })).toMatchObject({ state: 'unacknowledged', shelf: null });
    await shelve();
    goBack();
    expect(await owner.call('unshelve', { params: params() })).toMatchObject({ state: 'normal' });
    await owner.refused('unshelve', 'wrong-state', { params: params() });
    await owner.refused('shelve', 'wrong-state', { params: params(), body: { minutes: 1, reason: 'it is over' } });
  });

  it.each([
    [{ minutes: 0, reason: 'x' }, 'minutes'], [{ minutes: 10_081, reason: 'x' }, 'minutes'], [{ minutes: 1.5, reason: 'x' }, 'minutes'], [{ minutes: 5 }, 'reason'], [{ minutes: 5, reason: ' ' }, 'reason'],
  ])('needs a time of at most a week and a reason: not %o', async (body, path) => {
    expect(await owner.refused('shelve', 'does-not-fit', { params: params(), body })).toMatchObject({ errors: [{ path }] });
  });
});

describe('what was done about an alert', () => {
  it('is written beside it, also when it is over', async () => {
    expect(await owner.call('alertAction', { params: params(), body: { text: 'Two ice bottles' } })).toMatchObject({ actions: [{ by: 'owner', text: 'Two ice bottles', disposition: null, at: toRfc3339(harnessStart) }] });
    goBack();
    await owner.call('acknowledge', { params: params() });
    expect(await owner.call('alertAction', { params: params(), body: { text: 'Looked at the fruit: firm', disposition: 'kept' } })).toMatchObject({ state: 'normal', actions: [{ text: 'Two ice bottles' }, { disposition: 'kept' }] });
    await owner.refused('alertAction', 'not-found', { params: { id: 'none' }, body: { text: 'x' } });
  });

  it('reaches screens that listen', async () => {
    const stream = await owner.listen();
    await owner.call('alertAction', { params: params(), body: { text: 'Shade' } });
    const event = await until('the alert is told again', () => stream.events.find(({ name, data }) => name === 'alert' && JSON.stringify(data).includes('Shade')));
    expect(event.data).toMatchObject({ id, actions: [{ text: 'Shade' }] });
  });
});

describe('a limit out of service', () => {
  const limit = { drum: 'barrel-1', id: 'leach-temperature-danger' };

  it('is not in force for its drum, and its alert says so until it is put back', async () => {
    const helper = await harness.as('helper');
    await helper.refused('setOutOfService', 'not-allowed', { params: limit, body: { reason: 'probe out for repair' } });
    expect(await owner.call('setOutOfService', { params: limit, body: { reason: 'probe out for repair' } })).toEqual({ drum: 'barrel-1', limit: limit.id, reason: 'probe out for repair', by: 'owner', since: toRfc3339(harnessStart) });
    expect((await owner.call('outOfService')).outOfService).toHaveLength(1);
    expect((await owner.call('alerts')).alerts).toMatchObject([{ id, state: 'out-of-service' }]);
    const lot = (await owner.call('batches')).batches[0]?.lot ?? '';
    const inForce = async () => (await owner.call('batch', { params: { lot } })).limits.some((each) => each.id === limit.id);
    expect(await inForce()).toBe(false);
    goBack();
    expect((await owner.call('alerts')).alerts).toMatchObject([{ state: 'out-of-service' }]);
    await owner.call('setInService', { params: limit });
    expect((await owner.call('alerts')).alerts).toEqual([]);
    expect(await inForce()).toBe(true);
    await owner.refused('setInService', 'not-found', { params: limit });
  });
});
