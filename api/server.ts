import { createServer, type RequestListener, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { fail, ok, type Result } from '#domain/result.ts';

/** How long a caller may take to send a request, and how many may be connected: a slow one must not hold what the screens need. */
export interface ServerLimits {
  readonly headersTimeoutMs: number;
  readonly requestTimeoutMs: number;
  readonly checkEveryMs: number;
  readonly mostConnections: number;
}

const limits: ServerLimits = { headersTimeoutMs: 10_000, requestTimeoutMs: 30_000, checkEveryMs: 2_000, mostConnections: 1_000 };

export const createHttpServer = (app: RequestListener, failed: (error: unknown) => void, { headersTimeoutMs, requestTimeoutMs, checkEveryMs, mostConnections }: ServerLimits = limits): Server => {
  const server = createServer({ headersTimeout: headersTimeoutMs, requestTimeout: requestTimeoutMs, connectionsCheckingInterval: checkEveryMs, keepAliveTimeout: 5_000 }, app);
  server.maxConnections = mostConnections;
  // A connection that cannot be taken (no more file handles) is no reason to end those that are there.
  server.on('error', (error) => {
    if (server.listening) failed(error);
  });
  return server;
};

/** The port listened on, or one line that says what to do. */
export const listen = (server: Server, host: string, port: number): Promise<Result<number, { readonly message: string }>> =>
  new Promise((resolve) => {
    const refuse = ({ code, message }: NodeJS.ErrnoException): void =>
      resolve(
        fail({
          message:
            code === 'EADDRINUSE'
              ? `Port ${port} on ${host} is taken. Stop what uses it, or choose another with --port.`
              : `Cannot listen on ${host}:${port} (${code ?? message}). Choose another with --host and --port.`,
        }),
      );
    server.once('error', refuse);
    server.listen(port, host, () => {
      server.off('error', refuse);
      resolve(ok((server.address() as AddressInfo).port));
    });
  });
