import { fail, ok, type Result } from '#domain/result.ts';
import { isChannel } from '#domain/reading/channel.ts';
import { seriesId } from '#domain/reading/reading.ts';
import type { InfluxAddress } from './address.ts';
import { createInfluxClient, reasonOf, type InfluxClient, type InfluxSeries } from './client.ts';
import type { FoundSeries } from './outbox-writer.ts';
import type { Outbox } from './outbox.ts';
import { readingOfRow, type Statements } from './statements.ts';

const firstAnswerMs = 4_000;
/** At a later start InfluxDB is not waited for. */
const shortAnswerMs = 1_000;

type Unreachable = { readonly code: 'unreachable'; readonly message: string };

/** What InfluxDB already has of the site; makes the database where it is not there yet. Or one line that says what to do. */
export const findAtStart = async (client: InfluxClient, statements: Statements, { database, shown }: InfluxAddress): Promise<Result<readonly FoundSeries[], Unreachable>> => {
  const ask = async () => foundIn(await client.query(statements.known()));
  try {
    return ok(await ask());
  } catch (error) {
    // What InfluxDB says where there is no such database: "not executed" where several things were asked at once.
    if (!/database not found|not executed/.test(reasonOf(error))) return fail(unreachable(shown, reasonOf(error)));
  }
  try {
    await client.query([`CREATE DATABASE "${database}"`]);
    return ok(await ask());
  } catch (error) {
    return fail(unreachable(shown, `${reasonOf(error)}: make the database first`));
  }
};

/** Whether InfluxDB is there at all, before anything is made anywhere. */
export const firstLook = async (address: InfluxAddress): Promise<Unreachable | null> => {
  try {
    await createInfluxClient(address, AbortSignal.timeout(firstAnswerMs)).query(['SHOW DATABASES']);
    return null;
  } catch (error) {
    // A name that may not list databases may still use its own; the store asks for that.
    return /not authorized|forbidden/i.test(reasonOf(error)) ? null : unreachable(address.shown, reasonOf(error));
  }
};

/** Everything InfluxDB has, where it has readings newer than an outbox knows of: somebody put an old copy of the directory back. Null otherwise, or where it is away. */
export const newerFound = async (address: InfluxAddress, statements: Statements, outbox: Pick<Outbox, 'known'>): Promise<readonly FoundSeries[] | null> => {
  const client = createInfluxClient(address, AbortSignal.timeout(shortAnswerMs));
  try {
    const lasts = statements.known()[1] ?? '';
    const [found = []] = await client.query([lasts]);
    const isNewer = foundIn([found, found]).some(({ last }) => last.at > (outbox.known(last.series)?.last.at ?? -Infinity));
    return isNewer ? foundIn(await client.query(statements.known())) : null;
  } catch {
    return null;
  }
};

const unreachable = (shown: string, reason: string): Unreachable => ({
  code: 'unreachable',
  message: `InfluxDB at ${shown} does not let itself be used (${reason}). Start it or correct --store; without --store readings are kept in the data directory.`,
});

const foundIn = ([firsts = [], lasts = [], counts = []]: readonly (readonly InfluxSeries[])[]): readonly FoundSeries[] =>
  firsts.flatMap(({ tags: { probe = '', channel = '' } = {}, values: [first] }) => {
    const rowOf = (all: readonly InfluxSeries[]) => all.find(({ tags }) => tags?.probe === probe && tags.channel === channel)?.values[0];
    const last = rowOf(lasts);
    if (!isChannel(channel) || first === undefined || last === undefined) return [];
    const series = seriesId(probe, channel);
    return [{ first: readingOfRow(series, first), last: readingOfRow(series, last), count: Number(rowOf(counts)?.[1] ?? 0) }];
  });
