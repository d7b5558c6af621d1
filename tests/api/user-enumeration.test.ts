import { afterAll, beforeAll, beforeEach, expect, it, vi } from 'vitest';
import { checkPassword } from '../../api/access/passwords.ts';
import { openApiHarness, type ApiHarness } from '../helpers/api-harness.ts';

/** How long an answer takes must not tell whether a name exists: the costly part is done once in both cases. Counted, not timed. */
vi.mock(import('../../api/access/passwords.ts'), async (load) => {
  const passwords = await load();
  return { ...passwords, checkPassword: vi.fn<typeof passwords.checkPassword>(passwords.checkPassword) };
});

let harness: ApiHarness;
beforeAll(async () => {
  harness = await openApiHarness();
  await harness.as('owner');
});
beforeEach(() => vi.mocked(checkPassword).mockClear());
afterAll(() => harness.close());

it.each(['owner', 'nobody'])('one hash is worked out with the name %s, at the same cost', async (name) => {
  expect(await harness.service.access.check(name, 'wrong')).toBeNull();
  const calls = vi.mocked(checkPassword).mock.calls;
  expect(calls).toHaveLength(1);
  expect(calls[0]?.[1]).toMatch(/^\$argon2id\$v=19\$m=19456,t=2,p=1\$/);
});
