import { createHash, randomBytes } from 'node:crypto';
import { createWriteStream } from 'node:fs';
import { Transform } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import type { Request, RequestHandler } from 'express';
import { beginImport, dropImport, headRows, importFile, importIds, importInfo, importTouchedAt, keepImport } from '#collector';
import { importUploadQuery, mostImportBytes, type ImportUploaded, type LoggerMappingGiven } from '#contract';
import { byUser } from '#domain/journal/entry.ts';
import { guessDelimiter, guessMapping } from '#domain/logger/guess.ts';
import type { LoggerMapping } from '#domain/logger/mapping.ts';
import type { Channel } from '#domain/reading/channel.ts';
import { unitsOf } from '#domain/units/convert.ts';
import { dayMs, toRfc3339 } from '#domain/units/time.ts';
import type { UserOf } from '../access/session-cookie.ts';
import { ApiError, doesNotFit, notFound, unfit } from '../errors.ts';
import { importReportOf, understood } from '../shed/import-view.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import { allow, type Handlers } from './mount.ts';

const rowsGuessedBy = 60;
const rowsShown = 14;
const mostWaiting = 20;

/** Files of loggers: handed in, looked at, and ordered in the journal; the collector takes them in. */
export const importRoutes = (model: ShedModel, directory: string): Handlers<'imports' | 'import' | 'lookAtImport' | 'startImport' | 'dropImport'> => {
  const waiting = (id: string): NonNullable<ReturnType<typeof importInfo>> => {
    if (model.shed().imports.has(id)) throw new ApiError('wrong-state', 'This file is being taken in, or was. Nothing was changed.');
    const info = importInfo(directory, id);
    if (info === null) throw notFound(`file ${id} that waits to be taken in`);
    return info;
  };
  const ordered = (id: string) => {
    const found = model.shed().imports.get(id);
    if (found === undefined) throw notFound(`file ${id} that was taken in`);
    return importReportOf(directory, found);
  };
  return {
    imports: () => ({ imports: [...model.shed().imports.values()].map((each) => importReportOf(directory, each)).reverse() }),
    import: ({ params }) => ordered(params.id ?? ''),
    lookAtImport: ({ params, body }) => {
      const id = params.id ?? '';
      waiting(id);
      const mapping = checked({ ...body, probe: body.probe ?? 'not-named-yet' });
      return understood(headRows(importFile(directory, id), mapping.delimiter, mapping.skipRows + rowsShown), mapping, model.clock.now());
    },
    startImport: ({ params, body, user }) => {
      const id = params.id ?? '';
      const { file, bytes, digest } = waiting(id);
      const mapping = checked(body);
      const { understood: rows } = understood(headRows(importFile(directory, id), mapping.delimiter, mapping.skipRows + rowsGuessedBy), mapping, model.clock.now());
      if (rows.every((row) => 'refused' in row)) throw unfit('mapping', `not one of the first rows gives a reading this way (${rows.flatMap((row) => ('refused' in row ? [row.words] : []))[0] ?? 'there are no rows'})`);
      model.write([{ who: byUser(user.name), kind: 'import-ordered', body: { id, file, bytes, digest, mapping } }]);
      return ordered(id);
    },
    dropImport: ({ params }) => {
      waiting(params.id ?? '');
      dropImport(directory, params.id ?? '');
      return null;
    },
  };
};

/** Zone and unit are words the schema cannot know. */
const checked = (given: LoggerMappingGiven): LoggerMapping => {
  const channel = given.channel as Channel;
  if (!unitsOf(channel).includes(given.unit)) throw unfit('unit', `is none of ${unitsOf(channel).join(', ')}`);
  try {
    Temporal.Instant.fromEpochMilliseconds(0).toZonedDateTimeISO(given.zone);
  } catch {
    throw unfit('zone', 'is no time zone such as Europe/Athens, and no offset such as +02:00');
  }
  return { ...given, channel };
};

/** The file itself: written as it comes, piece by piece, so that a season of readings needs no memory. */
export const takeUpload = (model: ShedModel, directory: string, userOf: UserOf): RequestHandler => async (request, response) => {
  const user = userOf(request);
  allow(user, ['owner', 'helper']);
  const query = importUploadQuery.safeParse(request.query);
  if (!query.success) throw doesNotFit(query.error, 'bad-query');
  const now = model.clock.now();
  makeRoom(model, directory);
  const id = `${toRfc3339(now).slice(0, 10).replaceAll('-', '')}-${randomBytes(4).toString('hex')}`;
  try {
    const { bytes, digest } = await receive(request, beginImport(directory, id));
    if (bytes === 0) throw unfit('file', 'holds nothing');
    keepImport(directory, id, { file: query.data.name.toWellFormed(), bytes, digest, by: byUser(user?.name ?? ''), at: toRfc3339(now) });
  } catch (error) {
    dropImport(directory, id);
    throw error;
  }
  response.status(201).json(lookAt(model, directory, id));
};

const receive = async (request: Request, to: string): Promise<{ readonly bytes: number; readonly digest: string }> => {
  const hash = createHash('sha256');
  let bytes = 0;
  const measure = new Transform({
    transform: (chunk: Buffer, _encoding, done) => {
      bytes += chunk.length;
      hash.update(chunk);
      if (bytes > mostImportBytes) done(new ApiError('too-large', `A file may hold ${mostImportBytes / 1_048_576} MiB. Nothing was kept of it; cut it in two.`));
      else done(null, chunk);
    },
  });
  await pipeline(request, measure, createWriteStream(to));
  return { bytes, digest: hash.digest('hex') };
};

const lookAt = (model: ShedModel, directory: string, id: string): ImportUploaded => {
  const file = importFile(directory, id);
  const delimiter = guessDelimiter((each) => headRows(file, each, rowsGuessedBy));
  const rows = headRows(file, delimiter, rowsGuessedBy);
  const guess = guessMapping(rows, delimiter);
  const info = importInfo(directory, id);
  return { id, file: info?.file ?? '', bytes: info?.bytes ?? 0, guess: { ...guess, timeColumns: [...guess.timeColumns], zone: model.zone }, rows: rows.slice(0, rowsShown).map((cells) => [...cells]) };
};

/** Files that nobody said how to read are kept for a day, and only so many of them. */
const makeRoom = (model: ShedModel, directory: string): void => {
  const idle = importIds(directory).filter((id) => !model.shed().imports.has(id)).sort((one, other) => importTouchedAt(directory, one) - importTouchedAt(directory, other));
  for (const [index, id] of idle.entries()) {
    if (idle.length - index >= mostWaiting || Date.now() - importTouchedAt(directory, id) > dayMs) dropImport(directory, id);
  }
};
