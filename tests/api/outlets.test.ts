import { readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { hourMs } from '#domain/units/time.ts';
import { openApiHarness, openShed, warmAlert, type ApiHarness } from '../helpers/api-harness.ts';

let harness: ApiHarness;
beforeEach(async () => {
  harness = await openApiHarness();
});
afterEach(() => harness.close());

const server = { host: 'mail.example.org', port: 465, security: 'tls', user: 'shed', from: 'shed@example.org' } as const;
const mail = { kind: 'mail', name: 'Anna', to: 'anna@example.org', server, password: 'a long secret' } as const;
const hook = { kind: 'webhook', name: 'Hook', url: 'https://hooks.example.org/secret-path' } as const;

/** Everything that the journal and the API say, as text. */
const allSaid = async (): Promise<string> => {
  const owner = await harness.as('owner');
  return JSON.stringify([(await owner.fetch('/api/journal')).body, await owner.call('outlets')]);
};

describe('outlets', () => {
  it('are set, routed and taken away, and what is secret stands in no journal and no answer', async () => {
    const owner = await harness.as('owner');
    expect((await owner.call('setOutlet', { params: { id: 'anna' }, body: mail })).key).toBeNull();
    const { key } = await owner.call('setOutlet', { params: { id: 'hook' }, body: hook });
    expect(key).toMatch(/^whsec_[A-Za-z0-9+/]{43}=$/);
    const route = { priorities: ['high' as const], quiet: { from: '22:00', to: '06:00' }, remindMinutes: 30, seals: false };
    expect((await owner.call('setOutletRoute', { params: { id: 'anna' }, body: route })).route).toEqual(route);
    const { outlets } = await owner.call('outlets');
    expect(outlets.map(({ id, to, hasSecret, status }) => ({ id, to, hasSecret, status }))).toEqual([
      { id: 'anna', to: 'anna@example.org', hasSecret: true, status: 'not-tried' },
      { id: 'hook', to: 'hooks.example.org', hasSecret: true, status: 'not-tried' },
    ]);
    const said = await allSaid();
    expect(said).toContain('mail.example.org');
    for (const secret of ['a long secret', 'secret-path', key ?? '']) expect(said).not.toContain(secret);
    const file = join(harness.directory, 'outlet-secrets.json');
    expect(JSON.parse(readFileSync(file, 'utf8'))).toEqual({ anna: { password: 'a long secret' }, hook: { url: hook.url, key } });
    expect(statSync(file).mode & 0o077).toBe(0);
    await owner.call('removeOutlet', { params: { id: 'hook' } });
    expect(readFileSync(file, 'utf8')).not.toContain('secret-path');
    expect((await owner.call('outlets')).outlets.map(({ id }) => id)).toEqual(['anna']);
  });

  it('keep password, key and route when set again without; a password goes to no other machine', async () => {
    const owner = await harness.as('owner');
    const { password: _password, ...same } = mail;
    await owner.refused('setOutlet', 'does-not-fit', { params: { id: 'anna' }, body: same });
    await owner.call('setOutlet', { params: { id: 'anna' }, body: mail });
    await owner.call('setOutletRoute', { params: { id: 'anna' }, body: { priorities: ['low'], quiet: null, remindMinutes: null, seals: false } });
    const again = await owner.call('setOutlet', { params: { id: 'anna' }, body: { ...same, to: 'ben@example.org' } });
    expect(again.outlet).toMatchObject({ to: 'ben@example.org', hasSecret: true, route: { priorities: ['low'] } });
    const refused = await owner.refused('setOutlet', 'does-not-fit', { params: { id: 'anna' }, body: { ...same, server: { ...server, host: 'elsewhere.example.net' } } });
    expect(refused.errors?.[0]?.path).toBe('password');
    await owner.refused('setOutlet', 'does-not-fit', { params: { id: 'anna' }, body: hook });
    await owner.call('setOutlet', { params: { id: 'hook' }, body: hook });
    expect((await owner.call('setOutlet', { params: { id: 'hook' }, body: { kind: 'webhook', name: 'Other name' } })).key).toBeNull();
  });

  it('are the owner\'s to change and try; a helper may look', async () => {
    const owner = await harness.as('owner');
    const helper = await harness.as('helper');
    await owner.call('setOutlet', { params: { id: 'hook' }, body: hook });
    expect((await helper.call('outlets')).outlets).toHaveLength(1);
    for (const name of ['setOutlet', 'setOutletRoute', 'removeOutlet', 'testOutlet'] as const) await helper.refused(name, 'not-allowed', { params: { id: 'hook' }, body: {} });
    await (await harness.as('wall')).refused('outlets', 'not-allowed');
  });

  it('are tried by the collector, whose answer stands among the announced', async () => {
    const owner = await harness.as('owner');
    await owner.call('setOutlet', { params: { id: 'hook' }, body: hook });
    const { entry } = await owner.call('testOutlet', { params: { id: 'hook' } });
    expect(harness.service.model.shed().announced.testsAsked.get('hook')).toBe(entry);
    harness.collectorWrites({ kind: 'announced', body: { delivery: 'd', outlet: 'hook', what: 'test', to: 'hooks.example.org', alerts: [], at: '2026-10-03T12:00:01.000Z', lateS: 0, attempts: 1, result: 'failed', detail: 'hooks.example.org answered 404.' } });
    const { announced } = await owner.call('outlets');
    expect(announced).toMatchObject([{ outlet: 'hook', what: 'test', result: 'failed', detail: 'hooks.example.org answered 404.' }]);
    expect(announced[0]?.entry).toBeGreaterThan(entry);
    await owner.refused('testOutlet', 'not-found', { params: { id: 'nobody' } });
    await owner.call('testOutlet', { params: { id: 'mqtt' } });
  });

  it.each([
    ['a quiet hour that is none', { priorities: [], quiet: { from: '24:00', to: '06:00' }, remindMinutes: null, seals: false }],
    ['notes, which are never announced', { priorities: ['note'], quiet: null, remindMinutes: null, seals: false }],
    ['reminders every minute', { priorities: [], quiet: null, remindMinutes: 1, seals: false }],
  ])('refuse %s', async (_what, body) => {
    const owner = await harness.as('owner');
    await owner.call('setOutlet', { params: { id: 'hook' }, body: hook });
    expect((await owner.refused('setOutletRoute', 'does-not-fit', { params: { id: 'hook' }, body })).errors).toHaveLength(1);
  });
});

it('the measures of alerts are those of the last days', async () => {
  const owner = await harness.as('owner');
  const lot = await openShed(harness);
  harness.collectorWrites({ kind: 'alert-raised', body: warmAlert(harness, lot) });
  harness.clock.advance(25 * hourMs);
  expect(await owner.call('alertMeasures', { query: { days: 2 } })).toMatchObject({ count: 1, perDay: 0.5, stale: 1, mostFrequent: [{ rule: 'leach-temperature-danger', drum: 'barrel-1', count: 1, share: 1 }] });
  expect(await owner.call('alertMeasures', { query: { days: 1 } })).toMatchObject({ count: 0, stale: 1 });
});
