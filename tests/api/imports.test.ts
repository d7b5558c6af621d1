import { existsSync, readdirSync, readFileSync, utimesSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { importUploaded, mostImportBytes, type ImportUploaded, type LoggerMappingGiven } from '#contract';
import { expectProblem, openApiHarness, type ApiClient, type ApiHarness } from '../helpers/api-harness.ts';

/** NOAA/NCDC hourly normals of Seattle as vega-datasets 3.2.1 publishes them; 8,759 rows. */
const published = readFileSync(new URL('../../node_modules/vega-datasets/data/seattle-weather-hourly-normals.csv', import.meta.url));

let harness: ApiHarness;
let helper: ApiClient;
beforeEach(async () => {
  harness = await openApiHarness({ zone: 'Europe/Athens' });
  helper = await harness.as('helper');
});
afterEach(() => harness.close());

const send = (body: BodyInit, name = 'logger.csv', who = helper) => who.fetch(`/api/imports?name=${encodeURIComponent(name)}`, { method: 'POST', headers: { 'content-type': 'text/csv' }, body });
const handIn = async (body: BodyInit): Promise<ImportUploaded> => {
  const { status, body: answer } = await send(body);
  expect(status).toBe(201);
  return importUploaded.strict().parse(answer);
};
// Invented rows of this season.
const rows = 'time;T\n2026-10-01 08:00;18,5\n2026-10-01 08:10;warm\n2026-10-01 08:20;18,4\n';

describe('the file of a logger', () => {
  it('is kept as it came, and answered with what its first rows look like', async () => {
    const { guess, rows: first, bytes, id } = await handIn(published);
    expect(guess).toEqual({ delimiter: ',', skipRows: 1, timeColumns: [0], timeFormat: 'iso', zone: 'Europe/Athens', valueColumn: 2, decimal: '.', unit: 'Cel', channel: 'temperature' });
    expect([first.slice(0, 2), bytes]).toEqual([[['date', 'pressure', 'temperature', 'wind'], ['2010-01-01T01:00:00', '1016.6', '4.0', '3.8']], published.length]);
    expect(readFileSync(join(harness.directory, 'imports', id, 'file.csv')).equals(published)).toBe(true);
  });

  it('is shown as it would be taken in, and nothing is written by looking', async () => {
    const { id, guess } = await handIn(rows);
    const { understood, unit } = await helper.call('lookAtImport', { params: { id }, body: guess });
    expect(unit).toBe('Cel');
    expect(understood).toEqual([
      { row: 2, at: '2026-10-01T05:00:00.000Z', value: 18.5, quality: 'good' },
      { row: 3, refused: 'not-a-number', words: 'the value is no number' },
      { row: 4, at: '2026-10-01T05:20:00.000Z', value: 18.4, quality: 'good' },
    ]);
    const other = await helper.call('lookAtImport', { params: { id }, body: { ...guess, zone: '+00:00', unit: 'degF' } });
    expect(other.understood[0]).toMatchObject({ at: '2026-10-01T08:00:00.000Z', value: expect.closeTo(-7.5, 6) as number });
    expect((await helper.call('imports')).imports).toEqual([]);
  });

  it('is ordered once, in the journal, and told by how far the collector is', async () => {
    const { id, guess } = await handIn(rows);
    const mapping: LoggerMappingGiven = { ...guess, probe: 'old-logger' };
    expect(await helper.call('startImport', { params: { id }, body: mapping })).toMatchObject({ state: 'waiting', file: 'logger.csv', by: 'user:helper', share: 0 });
    const { entries } = await helper.call('journal', { query: { after: 0 } });
    expect(entries.at(-1)).toMatchObject({ who: 'user:helper', kind: 'import-ordered', body: { id, file: 'logger.csv', bytes: rows.length, mapping } });
    await helper.refused('startImport', 'wrong-state', { params: { id }, body: mapping });
    await helper.refused('dropImport', 'wrong-state', { params: { id } });
    harness.collectorWrites({ kind: 'import-finished', body: { id, rows: 3, stored: 2, duplicates: 0, conflicts: 0, refused: { 'not-a-number': 1 }, from: '2026-10-01T05:00:00.000Z', to: '2026-10-01T05:20:00.000Z' } });
    expect(await helper.call('import', { params: { id } })).toMatchObject({ state: 'done', share: 1, stored: 2, refused: [{ reason: 'not-a-number', count: 1, words: 'the value is no number' }], to: '2026-10-01T05:20:00.000Z' });
    await harness.restart();
    expect((await helper.call('imports')).imports).toMatchObject([{ id, state: 'done' }]);
  });

  it('is refused where it cannot be meant', async () => {
    const { id, guess } = await handIn(rows);
    const mapping = { ...guess, probe: 'old-logger' };
    expect((await helper.refused('startImport', 'does-not-fit', { params: { id }, body: { ...mapping, zone: 'Athens' } })).errors?.[0]?.path).toBe('zone');
    expect((await helper.refused('startImport', 'does-not-fit', { params: { id }, body: { ...mapping, unit: 'pH' } })).errors?.[0]?.path).toBe('unit');
    expect((await helper.refused('startImport', 'does-not-fit', { params: { id }, body: { ...mapping, probe: 'Old Logger' } })).errors?.[0]?.path).toBe('probe');
    expect((await helper.refused('startImport', 'does-not-fit', { params: { id }, body: { ...mapping, valueColumn: 0 } })).detail).toMatch('not one of the first rows');
    await helper.refused('startImport', 'not-found', { params: { id: '20261003-00000000' }, body: mapping });
    await helper.refused('lookAtImport', 'not-found', { params: { id: '../../book' }, body: guess });
    await helper.refused('import', 'not-found', { params: { id } });
    await helper.call('dropImport', { params: { id } });
    expect(existsSync(join(harness.directory, 'imports', id))).toBe(false);
    expectProblem(await send(''), 'does-not-fit');
    expectProblem(await send(rows, 'a.csv', await harness.as('wall')), 'not-allowed');
    expectProblem(await send(rows, 'a.csv', harness.stranger()), 'not-signed-in');
  });

  it('that is too large is cut off, and nothing of it stays', async () => {
    const piece = new Uint8Array(1_048_576).fill(65);
    let left = mostImportBytes / piece.length + 1;
    const endless = new ReadableStream<Uint8Array>({
      pull: (controller) => {
        left -= 1;
        if (left < 0) controller.close();
        else controller.enqueue(piece);
      },
    });
    const answer = await helper.fetch('/api/imports', { method: 'POST', headers: { 'content-type': 'text/csv' }, body: endless, duplex: 'half' } as RequestInit).catch(() => null);
    if (answer !== null) expectProblem(answer, 'too-large');
    expect(readdirSync(join(harness.directory, 'imports'))).toEqual([]);
  });

  it('that nobody says how to read makes room after a day', async () => {
    const { id } = await handIn(rows);
    const yesterday = new Date(Date.now() - 25 * 3_600_000);
    utimesSync(join(harness.directory, 'imports', id), yesterday, yesterday);
    const next = await handIn(rows);
    expect(readdirSync(join(harness.directory, 'imports'))).toEqual([next.id]);
  });
});
