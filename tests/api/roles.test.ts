import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { errorCodes, liveRoles, roles, routes, type RouteName, type RouteShape } from '#contract';
import { expectProblem, openApiHarness, type ApiHarness } from '../helpers/api-harness.ts';

/** Who may call what, derived from the route table and asked of the running server. */
let harness: ApiHarness;
beforeAll(async () => {
  harness = await openApiHarness();
});
afterAll(() => harness.close());

const kept = (Object.keys(routes) as RouteName[]).filter((name) => (routes[name] as RouteShape).roles !== 'open');

describe.each(roles)('a caller with the role %s', (role) => {
  it.each(kept)('may call %s exactly if the table says so', async (name) => {
    const { method, path, roles: allowed } = routes[name] as RouteShape;
    const client = await harness.as(role);
    const { status, ...answer } = await client.fetch(`/api${path.replaceAll(/\{\w+\}/g, 'nothing')}`, { method: method.toUpperCase() });
    if (allowed.includes(role)) {
      // Let in: what follows is about the request itself.
      expect([200, 201, 204, 404, 422]).toContain(status);
    } else {
      const { detail } = expectProblem({ status, ...answer }, 'not-allowed');
      expect(detail).toContain(`${role} has the role ${role}`);
    }
  });

  it('may listen to the event stream exactly if the table says so', async () => {
    const client = await harness.as(role);
    if (liveRoles.includes(role)) (await client.listen()).close();
    else expectProblem(await client.fetch('/api/live'), 'not-allowed');
  });
});

/** What is fixed about people: the owner does everything, a helper does and logs, a wall reads, an inspector reads records only. */
describe('the table itself', () => {
  const allowedTo = (role: (typeof roles)[number]): RouteName[] => kept.filter((name) => (routes[name] as { roles: readonly string[] }).roles.includes(role));

  it('lets the owner do everything', () => {
    expect(allowedTo('owner')).toEqual(kept);
  });

  it('lets a wall only read', () => {
    // A calculator writes nothing.
    const writing = allowedTo('wall').filter((name) => routes[name].method !== 'get' && name !== 'calculate');
    expect(writing).toEqual([]);
    expect(allowedTo('wall')).not.toContain('journal');
  });

  it('shows an inspector the records and nothing else', () => {
    expect(allowedTo('inspector')).toEqual(['trace', 'records']);
  });

  it('keeps limits and drums to the owner', () => {
    for (const name of ['addDrum', 'setLimit', 'setDrumLimit'] as const) expect(routes[name].roles).toEqual(['owner']);
  });

  it('has error codes for what a role runs into', () => {
    expect(errorCodes).toEqual(expect.arrayContaining(['not-signed-in', 'not-allowed']));
  });
});
