import { textOf, type Log } from './log.ts';

/**
 * A process under the supervisor: says `ready` or `failed` to its parent, and ends when told to, or when the parent is gone, so that
 * no orphan holds the ports and the data directory. Run by hand it says the same in plain lines.
 */
export interface Child {
  tell(message: { readonly kind: string; readonly [field: string]: unknown }): void;
  /** Ends with exit code 1 and one line that says why. */
  fail(message: string): never;
  /** What to do before ending in good order; until it is given, ending is immediate. */
  onStop(stop: () => Promise<void>): void;
}

export const startChild = (log: Log): Child => {
  const supervised = process.send !== undefined;
  let stop: (() => Promise<void>) | null = null;
  let stopping = false;

  const end = (): void => {
    if (stopping) return;
    stopping = true;
    const done = (code: number): never => process.exit(code);
    (stop ?? (() => Promise.resolve()))().then(
      () => done(0),
      (error: unknown) => {
        log.error({ error: textOf(error) }, 'could not stop in good order');
        done(1);
      },
    );
  };
  const fail = (message: string): never => {
    if (process.connected) process.send?.({ kind: 'failed', message });
    if (!supervised) process.stderr.write(`${message}\n`);
    process.exit(1);
  };
  for (const signal of ['SIGINT', 'SIGTERM'] as const) process.on(signal, end);
  process.on('disconnect', end);
  // After a fault nobody thought of, memory cannot be trusted: what is on disk can, so the process ends and is started again.
  process.on('uncaughtException', (error) => {
    if (stop === null) fail(`Cannot start: ${error.message.replaceAll(/\s+/g, ' ')}. This is a fault in Brineward; please report it with this line.`);
    log.error({ error: textOf(error) }, 'ended by a fault inside; it is started again');
    process.exit(1);
  });

  return {
    tell: (message) => {
      if (process.connected) process.send?.(message);
    },
    fail,
    onStop: (given) => {
      stop = given;
      // The parent may have gone while this process was still starting.
      if (supervised && !process.connected) end();
    },
  };
};
