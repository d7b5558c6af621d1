import { once } from 'node:events';
import type { AddressInfo } from 'node:net';
import express from 'express';
import type { CalculatorAnswer, CalculatorName, Role } from '#contract';
import { answerErrors, noSuchPath } from '../../api/errors.ts';
import { calculateRoutes } from '../../api/routes/calculate.ts';
import { mount } from '../../api/routes/mount.ts';

export interface Served<Body> {
  readonly status: number;
  readonly body: Body;
}

export interface CalculateServer {
  /** A question that must be answered; otherwise the refusal is the test's failure. */
  ask<Name extends CalculatorName>(name: Name, input: object): Promise<CalculatorAnswer<Name>>;
  /** POSTs anything to any name as JSON; a string goes out as it is. */
  send(name: string, input: unknown, role?: Role | null): Promise<Served<unknown>>;
  list(role?: Role | null): Promise<Served<unknown>>;
  /** Faults of the server itself, none of which a request may cause. */
  readonly faults: readonly unknown[];
  close(): Promise<void>;
}

/** The calculators alone, mounted as the server mounts them, on a port of their own; who asks stands in the token. */
export const serveCalculators = async (): Promise<CalculateServer> => {
  const faults: unknown[] = [];
  const app = express();
  app.use(express.json({ limit: 262_144, strict: false }));
  mount(app, calculateRoutes, (request) => {
    const role = request.headers.authorization?.replace('Bearer ', '');
    return role === undefined ? null : { name: role, role: role as Role };
  });
  app.use(noSuchPath);
  app.use(answerErrors((error) => faults.push(error)));
  const server = app.listen(0, '127.0.0.1');
  await once(server, 'listening');
  const { port } = server.address() as AddressInfo;
  const call = async (path: string, role: Role | null, init: RequestInit): Promise<Served<unknown>> => {
    const headers = { 'content-type': 'application/json', ...(role === null ? {} : { authorization: `Bearer ${role}` }) };
    const response = await fetch(`http://127.0.0.1:${port}${path}`, { ...init, headers });
    return { status: response.status, body: await response.json() };
  };
  const send: CalculateServer['send'] = (name, input, role = 'owner') => call(`/calculate/${encodeURIComponent(name)}`, role, { method: 'POST', body: typeof input === 'string' ? input : JSON.stringify(input) });
  return {
    ask: async (name, input) => {
      const { status, body } = await send(name, input);
      if (status !== 200) throw new Error(`${name} ${JSON.stringify(input)}: ${JSON.stringify(body)}`);
      return body as CalculatorAnswer<typeof name>;
    },
    send,
    list: (role = 'owner') => call('/calculate', role, { method: 'GET' }),
    faults,
    close: async () => {
      server.close();
      server.closeAllConnections();
      await once(server, 'close');
    },
  };
};
