import { createHash } from 'node:crypto';
import { afterAll, expect, it } from 'vitest';
import { openApiHarness } from '../helpers/api-harness.ts';

const harness = await openApiHarness();
afterAll(() => harness.close());

it('a probe gets a password from the owner: told once, kept as a digest, taken away again', async () => {
  const owner = await harness.as('owner');
  const { name, password } = await owner.call('setProbePassword', { params: { probe: 'barrel-1' } });
  expect(name).toBe('barrel-1');
  const { entries } = await owner.call('journal', { query: { after: 0 } });
  expect(entries.at(-1)).toMatchObject({ kind: 'probe-password-set', body: { probe: 'barrel-1', digest: createHash('sha256').update(password).digest('hex') } });
  expect(JSON.stringify(entries)).not.toContain(password);
  await owner.call('removeProbePassword', { params: { probe: 'barrel-1' } });
  await owner.refused('removeProbePassword', 'not-found', { params: { probe: 'barrel-1' } });
  await owner.refused('setProbePassword', 'does-not-fit', { params: { probe: 'Barrel 1' } });
  const helper = await harness.as('helper');
  await helper.refused('setProbePassword', 'not-allowed', { params: { probe: 'barrel-1' } });
});
