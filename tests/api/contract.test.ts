import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { errorCodes, errors, livePath, routes, type RouteName, type RouteShape } from '#contract';
import { openApiHarness, expectProblem, type ApiHarness } from '../helpers/api-harness.ts';

const routeNames = Object.keys(routes) as RouteName[];
const rowOf = (name: RouteName): RouteShape => routes[name];

let harness: ApiHarness;
let document: OpenApiDocument;

interface OpenApiDocument {
  readonly openapi: string;
  readonly info: { readonly title: string; readonly version: string };
  readonly components: { readonly securitySchemes: Record<string, object>; readonly schemas: Record<string, object> };
  readonly paths: Record<string, Record<string, Operation>>;
}
interface Operation {
  readonly operationId: string;
  readonly security?: readonly object[];
  readonly parameters?: readonly { readonly name: string; readonly in: string; readonly required: boolean; readonly schema: object }[];
  readonly requestBody?: { readonly content: Record<string, { readonly schema: object }> };
  readonly responses: Record<string, { readonly description: string; readonly content?: Record<string, { readonly schema: object }> }>;
}

beforeAll(async () => {
  harness = await openApiHarness();
  document = (await harness.stranger().fetch('/api/openapi.json')).body as OpenApiDocument;
});
afterAll(() => harness.close());

describe('the error catalogue', () => {
  // The statuses the API may answer with are fixed: 400, 401, 403, 404, 409, 413, 415, 422, 429, 503, and 500 for its own faults.
  it('holds only codes with one of the fixed statuses', () => {
    const fixed = [400, 401, 403, 404, 409, 413, 415, 422, 429, 500, 503];
    expect(errorCodes.filter((code) => !fixed.includes(errors[code].status))).toEqual([]);
    expect([...new Set(errorCodes.map((code) => errors[code].status))].toSorted((one, other) => one - other)).toEqual(fixed);
  });

  it('names codes as lower-case words, each with a title of its own', () => {
    expect(errorCodes.filter((code) => !/^[a-z]+(-[a-z]+)*$/.test(code))).toEqual([]);
    expect(new Set(errorCodes.map((code) => errors[code].title)).size).toBe(errorCodes.length);
  });
});

describe('the route table', () => {
  it('is mounted whole: a stranger is asked to sign in, or answered where the route is open', async () => {
    const statuses = await Promise.all(
      routeNames.map(async (name) => {
        const { method, path, roles } = rowOf(name);
        const answer = await harness.stranger().fetch(`/api${path.replaceAll(/\{\w+\}/g, 'x')}`, { method: method.toUpperCase() });
        if (roles !== 'open') expectProblem(answer, 'not-signed-in');
        return [name, answer.status];
      }),
    );
    expect(statuses.filter(([, status]) => status === 404 || status === 500)).toEqual([]);
  });

  it('has one row for each method and path', () => {
    expect(new Set(routeNames.map((name) => `${rowOf(name).method} ${rowOf(name).path}`)).size).toBe(routeNames.length);
  });

  it('answers a path or a method it does not have with the problem "not-found"', async () => {
    for (const [method, path] of [['GET', '/api/nothing'], ['PATCH', '/api/drums'], ['GET', '/api'], ['DELETE', '/api/drums/x']] as const) {
      expectProblem(await harness.stranger().fetch(path, { method }), 'not-found');
    }
  });
});

/** OpenAPI Specification 3.1.1: what a reader of the document relies on, checked without a library. */
describe('/api/openapi.json', () => {
  it('is an OpenAPI 3.1 document with a title, a version and paths (section 4.8.1)', () => {
    expect(document.openapi).toMatch(/^3\.1\.\d$/);
    expect(document.info).toMatchObject({ title: 'Brineward', version: '0.0.0' });
    expect(Object.keys(document.paths).every((path) => path.startsWith('/api/'))).toBe(true);
  });

  it('tells every row of the route table, and the event stream', () => {
    const told = Object.entries(document.paths).flatMap(([path, item]) => Object.keys(item).map((method) => `${method} ${path}`));
    for (const name of routeNames) expect(told).toContain(`${rowOf(name).method} /api${rowOf(name).path}`);
    expect(told).toContain(`get /api${livePath}`);
  });

  it('gives each operation an id of its own and at least one response with a description (4.8.10, 4.8.17)', () => {
    const operations = operationsOf(document);
    expect(new Set(operations.map(({ operationId }) => operationId)).size).toBe(operations.length);
    for (const { responses } of operations) {
      expect(Object.keys(responses).every((status) => /^([1-5]\d\d|default)$/.test(status))).toBe(true);
      expect(Object.values(responses).every(({ description }) => description.length > 0)).toBe(true);
    }
  });

  it('declares each parameter of a path exactly once, as required (4.8.12.1)', () => {
    for (const [path, item] of Object.entries(document.paths)) {
      const inPath = [...path.matchAll(/\{(\w+)\}/g)].map(([, name]) => name);
      for (const { parameters = [] } of Object.values(item)) {
        expect(parameters.filter((parameter) => parameter.in === 'path').map(({ name }) => name)).toEqual(inPath);
        expect(parameters.every((parameter) => parameter.in !== 'path' || parameter.required)).toBe(true);
      }
    }
  });

  it('points with $ref only to what it holds (JSON Pointer, RFC 6901)', () => {
    const references = JSON.stringify(document).match(/"\$ref":"[^"]*"/g) ?? [];
    expect(references.length).toBeGreaterThan(0);
    for (const reference of references) {
      const pointer = /"\$ref":"#\/([^"]*)"/.exec(reference)?.[1];
      expect(pointer, reference).toBeDefined();
      expect((pointer ?? '').split('/').reduce<unknown>((at, key) => (at as Record<string, unknown> | undefined)?.[key], document), reference).toBeDefined();
    }
  });

  it('says that open routes need no sign-in, and describes problem details for all', () => {
    for (const name of routeNames) {
      const { method, path, roles } = rowOf(name);
      const operation = document.paths[`/api${path}`]?.[method];
      expect(operation?.security).toEqual(roles === 'open' ? [] : undefined);
      expect(Object.keys(operation?.responses.default?.content ?? {})).toEqual(['application/problem+json']);
    }
    expect(document.components.schemas.Problem).toMatchObject({ properties: { code: { type: 'string' } } });
  });

  it('names every error code a problem may have', () => {
    expect(document.components.schemas.Problem).toMatchObject({ properties: { code: { enum: [...errorCodes] } } });
  });
});

const operationsOf = ({ paths }: OpenApiDocument): Operation[] => Object.values(paths).flatMap((item) => Object.values(item));
