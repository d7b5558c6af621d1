import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { execPath } from 'node:process';
import { DatabaseSync } from 'node:sqlite';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import type { Reading } from '#domain/reading/reading.ts';
import type { SealingStore } from '#domain/reading/sealing.ts';
import { dayMs, hourMs, minuteMs } from '#domain/units/time.ts';
import { openSqliteStore } from '../../collector/stores/sqlite/open.ts';
import { sealSteps, type SealStep } from '../../collector/stores/sqlite/sealer.ts';
import { air, brine, evenly, start } from '../helpers/readings.ts';
import { createDataDirectory } from '../helpers/store-harness.ts';
import { faultsOf } from '../helpers/block-checks.ts';
import { valueOf } from '../helpers/value-of.ts';

const sealer = fileURLToPath(new URL('seal-until-killed.ts', import.meta.url));
const day = { from: start, to: start + dayMs };

const sealAndKill = async (file: string, step: SealStep, times: number): Promise<void> => {
  const child = spawn(execPath, [sealer, file, String(day.from), String(day.to), step, String(times)], { stdio: ['ignore', 'inherit', 'inherit'] });
  expect(await once(child, 'exit')).toEqual([null, 'SIGKILL']);
};

const contents = async (store: SealingStore): Promise<readonly Reading[]> => [...(await store.raw(brine, day, Infinity)), ...(await store.raw(air, day, Infinity))];
const hour = { from: start + 3 * hourMs, to: start + 4 * hourMs };
const viewOf = async (store: SealingStore): Promise<unknown> => [await store.view([{ series: brine, ...hour }], hour, 1), await store.view([{ series: brine, ...day }], day, 4), await store.summaries(), await store.latest()];
const rowsLeft = (file: string): unknown => {
  const database = new DatabaseSync(file, { readOnly: true });
  const left = database.prepare('SELECT (SELECT count(*) FROM reading) AS readings, (SELECT count(*) FROM block WHERE settled = 0) AS tries, (SELECT count(*) FROM block_bytes WHERE block NOT IN (SELECT id FROM block)) AS strays').get();
  database.close();
  return { ...left };
};

// The first kill meets the second series, when the first is sealed; the other meets the amendment of the first.
test.each(sealSteps)('killed at "%s", no reading is lost or met twice, and sealing again ends clean', async (step) => {
  const { file, remove } = createDataDirectory();
  const first = [...evenly(1_000, minuteMs), ...evenly(1_000, minuteMs, start, air)];
  const late = [...evenly(100, minuteMs, start + 30_000), ...evenly(100, minuteMs, start + 30_000, air)];
  let known: readonly Reading[] = [];
  const sealed: string[] = [];
  for (const [part, readings] of [first, late].entries()) {
    const store = valueOf(openSqliteStore({ file }));
    expect(await store.append(readings)).toMatchObject({ stored: readings.length });
    known = [...known, ...readings].toSorted((one, other) => one.at - other.at);
    const expected = [...known.filter(({ series }) => series === brine), ...known.filter(({ series }) => series === air)];
    const view = await viewOf(store);
    await store.close();

    await sealAndKill(file, step, part === 0 ? 2 : 1);

    // What the api sees before any writer has put anything in order.
    const seen = valueOf(openSqliteStore({ file, readOnly: true }));
    expect(await contents(seen)).toEqual(expected);
    expect(await viewOf(seen)).toEqual(view);
    expect(await faultsOf(seen)).toEqual([]);
    // Whatever was sealed stays as it was: a digest once given does not change.
    const given = (await seen.digests(day)).map(({ series, part: each, sha256 }) => `${series} ${each} ${sha256}`);
    expect(given).toEqual(expect.arrayContaining(sealed));
    await seen.close();

    const again = valueOf(openSqliteStore({ file }));
    // The sender did not hear that they were sealed, and sends some once more.
    expect(await again.append(readings.slice(0, 50))).toMatchObject({ duplicates: 50 });
    await again.seal(day);
    const digests = await again.digests(day);
    expect(digests.map((digest) => [digest.series, digest.part, digest.count])).toEqual(
      [air, brine].flatMap((series) => [[series, 0, 1_000], [series, 1, 100]].slice(0, part + 1)),
    );
    expect(digests.map(({ series, part: each, sha256 }) => `${series} ${each} ${sha256}`)).toEqual(expect.arrayContaining(given));
    expect(await contents(again)).toEqual(expected);
    expect(await viewOf(again)).toEqual(view);
    expect(await faultsOf(again, digests)).toEqual([]);
    expect(await again.append(readings)).toMatchObject({ stored: 0, duplicates: readings.length });
    sealed.push(...digests.map(({ series, part: each, sha256 }) => `${series} ${each} ${sha256}`));
    await again.close();
    expect(rowsLeft(file)).toEqual({ readings: 0, tries: 0, strays: 0 });
  }
  remove();
}, 30_000);
