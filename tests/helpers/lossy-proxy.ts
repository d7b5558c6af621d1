import { createServer, request } from 'node:http';
import type { AddressInfo } from 'node:net';

/** Stands between a program and an HTTP server, passes everything on, and loses answers when told to: the work is done, the word of it does not arrive. */
export interface LossyProxy {
  readonly port: number;
  /** Loses the answers to the next so many requests whose path begins so. */
  lose(path: string, answers: number): void;
  readonly lost: number;
  stop(): Promise<void>;
}

export const startLossyProxy = async (to: number): Promise<LossyProxy> => {
  let losing = { path: '', left: 0 };
  let lost = 0;
  const server = createServer((asked, answer) => {
    const onward = request({ host: '127.0.0.1', port: to, path: asked.url, method: asked.method, headers: asked.headers }, (answered) => {
      if (losing.left > 0 && asked.url?.startsWith(losing.path) === true) {
        losing = { ...losing, left: losing.left - 1 };
        lost += 1;
        answered.resume();
        answered.once('end', () => asked.socket.destroy());
        return;
      }
      answer.writeHead(answered.statusCode ?? 500, answered.headers);
      answered.pipe(answer);
    });
    onward.once('error', () => asked.socket.destroy());
    asked.pipe(onward);
  });
  await new Promise<void>((resolve) => void server.listen(0, '127.0.0.1', resolve));
  return {
    port: (server.address() as AddressInfo).port,
    lose: (path, answers) => {
      losing = { path, left: answers };
    },
    get lost() {
      return lost;
    },
    stop: async () => {
      server.closeAllConnections();
      await new Promise((resolve) => void server.close(resolve));
    },
  };
};
