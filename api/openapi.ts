import { z } from 'zod';
import { calculatorNames, calendarPath, calendarQuery, compareCsvPath, daySheetPath, daySheetQuery, daySheetRoles, errorCodes, keyHeader, keyPattern, livePath, liveRoles, loadCalculators, problem, routes, type RouteName, type RouteShape } from '#contract';

const { calculators } = await loadCalculators();

/** The route table as OpenAPI 3.1, so that anyone can write a client without reading our code. */
export const openApi = (version: string): object => {
  const paths: Record<string, Record<string, object>> = {};
  for (const name of Object.keys(routes) as RouteName[]) {
    const route: RouteShape = routes[name];
    paths[`/api${route.path}`] = { ...paths[`/api${route.path}`], [route.method]: operation(name, route) };
  }
  for (const name of calculatorNames) {
    const { title, purpose, source, input, answer } = calculators[name];
    const route: RouteShape = { ...routes.calculate, path: routes.calculate.path.replace('{name}', name), summary: `${title}: ${purpose}`, body: input, answer };
    paths[`/api${route.path}`] = { post: { ...operation(`calculate-${name}`, route), description: `Source: ${source}` } };
  }
  paths[`/api${compareCsvPath}`] = {
    get: {
      operationId: 'compareCsv',
      summary: `${routes.compare.summary}, as a table`,
      'x-roles': routes.compare.roles,
      parameters: queryParameters(routes.compare.query),
      responses: { 200: { description: 'one row a cure or a point of a line', content: { 'text/csv': { schema: { type: 'string' } } } }, default: refusal },
    },
  };
  paths[`/api${calendarPath}`] = {
    get: {
      operationId: 'calendar',
      summary: `${routes.tasks.summary}, as a calendar feed (RFC 5545)`,
      security: [],
      'x-roles': routes.tasks.roles,
      parameters: [{ name: 'token', in: 'query', required: true, schema: schemaOf(calendarQuery.shape.token, 'input'), description: `From POST /api${routes.makeToken.path}` }],
      responses: { 200: { description: 'an event a task', content: { 'text/calendar': { schema: { type: 'string' } } } }, default: refusal },
    },
  };
  paths[`/api${daySheetPath}`] = {
    get: {
      operationId: 'daySheet',
      summary: 'The tasks of a day on paper, with boxes to write into',
      'x-roles': daySheetRoles,
      parameters: queryParameters(daySheetQuery),
      responses: { 200: { description: 'a page of A4 for each eight drums', content: { 'application/pdf': { schema: { type: 'string', contentEncoding: 'binary' } } } }, default: refusal },
    },
  };
  paths[`/api${livePath}`] = {
    get: {
      operationId: 'live',
      summary: 'Event stream of drums, alerts, tasks and health; resumable by Last-Event-ID',
      'x-roles': liveRoles,
      parameters: [{ name: 'Last-Event-ID', in: 'header', required: false, schema: { type: 'string' } }],
      responses: { 200: { description: 'events', content: { 'text/event-stream': { schema: { type: 'string' } } } }, default: refusal },
    },
  };
  return {
    openapi: '3.1.0',
    info: { title: 'Brineward', version, description: 'Times are RFC 3339 UTC; `t` in dense arrays is epoch milliseconds. Errors are problem details (RFC 9457) with a stable code.' },
    components: {
      securitySchemes: { session: { type: 'apiKey', in: 'cookie', name: 'brineward_session' }, token: { type: 'http', scheme: 'bearer' } },
      schemas: { Problem: schemaOf(problem.extend({ code: z.enum(errorCodes) }), 'output') },
    },
    security: [{ session: [] }, { token: [] }],
    paths,
  };
};

const operation = (name: string, route: RouteShape): object => ({
  operationId: name,
  summary: route.summary,
  ...(route.roles === 'open' ? { security: [] } : { 'x-roles': route.roles }),
  parameters: [
    ...[...route.path.matchAll(/\{(\w+)\}/g)].map(([, parameter]) => ({ name: parameter, in: 'path', required: true, schema: { type: 'string' } })),
    ...queryParameters(route.query),
    ...(route.keyed === true ? [{ name: keyHeader, in: 'header', required: false, schema: { type: 'string', pattern: keyPattern.source }, description: 'Sent again with the same key, an act is written once.' }] : []),
  ],
  ...(route.body === undefined ? {} : { requestBody: { required: !route.body.safeParse({}).success, content: { 'application/json': { schema: schemaOf(route.body, 'input') } } } }),
  responses: {
    [route.status]: route.answer === null ? { description: 'done' } : { description: 'the answer', content: { 'application/json': { schema: schemaOf(route.answer, 'output') } } },
    default: refusal,
  },
});

const refusal = { description: 'what went wrong', content: { 'application/problem+json': { schema: { $ref: '#/components/schemas/Problem' } } } };

const queryParameters = (query: z.ZodType | undefined): object[] => {
  if (query === undefined) return [];
  const { properties = {} } = schemaOf(query, 'input') as { properties?: Record<string, object> };
  return Object.entries(properties).map(([name, schema]) => ({ name, in: 'query', required: false, schema }));
};

const schemaOf = (schema: z.ZodType, io: 'input' | 'output'): object => {
  const { $schema: _dialect, ...rest } = z.toJSONSchema(schema, { io, unrepresentable: 'any' }) as Record<string, unknown>;
  return rest;
};
