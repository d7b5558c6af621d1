import type { SeriesId } from '#domain/reading/reading.ts';
import type { EpochMs } from '#domain/units/time.ts';
import { reasonOf, type InfluxClient } from './client.ts';
import type { OutboxWriter, Waiting } from './outbox-writer.ts';
import { lineOf, type Statements } from './statements.ts';
import { askStoredValues } from './stored-values.ts';

/**
 * Takes what waits to InfluxDB, a batch at a time, for as long as it takes. A batch that was sent and not ticked off (a lost answer, a
 * kill) is sent again and overwrites equal values with themselves.
 */
export interface Sender {
  /** There is something to send. */
  wake(): void;
  /** Resolves when nothing waits, or with false when InfluxDB does not answer. */
  settled(): Promise<boolean>;
  /** Why InfluxDB took nothing the last time; null when it did. */
  readonly trouble: string | null;
  /** Late readings counted as stored while InfluxDB was away, that turned out to be there already. */
  readonly settledLate: { readonly duplicates: number; readonly conflicts: number };
  stop(): Promise<void>;
}

export interface SenderOptions {
  readonly site: string;
  readonly client: InfluxClient;
  readonly statements: Statements;
  readonly writer: OutboxWriter;
  readonly keepMs: number;
  readonly random: () => number;
  readonly ended: AbortSignal;
  /** Runs work while no reading is being taken in. */
  readonly alone: <Value>(work: () => Value) => Promise<Value>;
  readonly pause: (ms: number, ended: AbortSignal) => Promise<void>;
  /** Told when InfluxDB is lost and when it is back. */
  readonly changed: (trouble: string | null) => void;
}

const batchSize = 5_000;
const shortestPauseMs = 500;
const longestPauseMs = 60_000;

/** Doubled each time, half of it fixed, the other half random, so that many collectors do not come back at once. */
export const sendPauseMs = (attempt: number, random: () => number): number => {
  const most = Math.min(longestPauseMs, shortestPauseMs * 2 ** Math.min(attempt, 10));
  return most / 2 + (most / 2) * random();
};

export const startSender = (options: SenderOptions): Sender => {
  const { site, client, statements, writer, keepMs, random, ended, alone, pause, changed } = options;
  const settledLate = { duplicates: 0, conflicts: 0 };
  let trouble: string | null = null;
  let running: Promise<void> | null = null;
  let again = false;
  const waiters: ((done: boolean) => void)[] = [];

  const answerWaiters = (done: boolean): void => {
    for (const waiter of waiters.splice(0)) waiter(done);
  };
  const say = (now: string | null): void => {
    if ((now === null) !== (trouble === null)) changed(now);
    trouble = now;
  };

  /** Late readings whose time could not be looked at when they came: where InfluxDB has a value, that one stays. */
  const settleUnsure = async (batch: readonly Waiting[]): Promise<readonly Waiting[]> => {
    const unsure = batch.filter((reading) => reading.unsure);
    if (unsure.length === 0) return batch;
    const asked = new Map<SeriesId, Set<EpochMs>>();
    for (const { series, at } of unsure) asked.set(series, (asked.get(series) ?? new Set()).add(at));
    const stored = await askStoredValues(client, statements, asked);
    const dropped = unsure.filter(({ series, at }) => stored.get(series)?.has(at) === true);
    await alone(() => writer.drop(dropped));
    for (const { series, at, value } of dropped) settledLate[stored.get(series)?.get(at) === value ? 'duplicates' : 'conflicts'] += 1;
    const gone = new Set(dropped);
    return batch.filter((reading) => !gone.has(reading));
  };

  /** One that InfluxDB refuses must not hold up the others: a refused batch is halved until the one is found. */
  const send = async (batch: readonly Waiting[]): Promise<void> => {
    if (batch.length === 0) return;
    const { refused } = await client.write(batch.map((reading) => lineOf(site, reading)).join('\n'));
    const [only] = batch;
    if (refused === null) await alone(() => writer.sent(batch, keepMs));
    else if (batch.length === 1 && only !== undefined) await alone(() => writer.refused(only));
    else {
      const middle = batch.length >> 1;
      await send(batch.slice(0, middle));
      await send(batch.slice(middle));
    }
  };

  const run = async (): Promise<void> => {
    for (let attempt = 0; !ended.aborted; ) {
      try {
        const batch = writer.waiting(batchSize);
        if (batch.length === 0) break;
        await send(await settleUnsure(batch));
        attempt = 0;
        say(null);
      } catch (error) {
        if (ended.aborted) break;
        say(reasonOf(error));
        answerWaiters(false);
        await pause(sendPauseMs(attempt, random), ended);
        attempt += 1;
      }
    }
  };

  const wake = (): void => {
    again = true;
    running ??= (async () => {
      while (again && !ended.aborted) {
        again = false;
        await run();
      }
    })().finally(() => {
      running = null;
      answerWaiters(!ended.aborted);
    });
  };

  return {
    wake,
    settled: () =>
      new Promise((resolve) => {
        // While it is lost nobody waits out a pause.
        if (trouble === null) waiters.push(resolve);
        else resolve(false);
        wake();
      }),
    get trouble() {
      return trouble;
    },
    settledLate,
    stop: async () => {
      if (running !== null) await running;
    },
  };
};
