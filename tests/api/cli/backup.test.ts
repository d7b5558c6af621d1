import { mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { create, extract, list } from 'tar';
import { afterAll, describe, expect, it } from 'vitest';
import { cli, expectSaid } from '../../helpers/cli.ts';
import { signIn } from '../../helpers/caller.ts';
import { pack, packTopic, probeSeen, setUpDrum } from '../../helpers/first-shed.ts';
import { publish } from '../../helpers/mosquitto-clients.ts';
import { createPlace, type Running } from '../../helpers/running.ts';

const place = createPlace();
afterAll(place.clear);

/** A shed with a batch and some readings, running. */
const shed = async (): Promise<Running> => {
  const running = await place.start();
  const nowS = Math.floor(Date.now() / 1_000);
  await publish({ port: running.mqttPort, topic: packTopic(), payload: pack(Array.from({ length: 200 }, (_, index) => ({ t: nowS - 60 * index, v: 18 + index / 100 }))) });
  const owner = await signIn(running);
  await probeSeen(owner);
  await setUpDrum(owner);
  return running;
};

describe('a backup', { timeout: 120_000 }, () => {
  it('is taken beside a running Brineward, and restored it is the same shed', async () => {
    const running = await shed();
    const file = join(place.directory(), 'shed.tar.gz');
    expect(await cli('backup', file, '--data', running.directory)).toMatchObject({ code: 0, error: expect.not.stringContaining('could not be told') as string });
    // The running Brineward knows of it at once; the backup itself cannot.
    const told = (await (await signIn(running)).call('journal')).entries.filter(({ kind }) => kind === 'backup-made');
    expect(told).toMatchObject([{ who: 'api', body: { bytes: statSync(file).size } }]);
    // It holds the key: nobody else may read it.
    expect(statSync(file).mode & 0o777).toBe(0o600);
    const names: string[] = [];
    await list({ file, onReadEntry: ({ path }) => names.push(path) });
    for (const name of ['manifest.json', 'book.db', 'readings.db', 'access.db', 'site-key.pem']) expect(names).toContain(name);
    await running.stop();

    const restored = join(place.directory(), 'restored');
    expect(await cli('restore', file, '--data', restored)).toMatchObject({ code: 0 });
    expect(await cli('verify', '--data', restored)).toMatchObject({ code: 0 });
    const [before, after] = [await cli('export', 'csv', '--data', running.directory), await cli('export', 'csv', '--data', restored)];
    expect(after.out).toBe(before.out);
    expect(after.out.split('\n')).toHaveLength(202);
    expect(readFileSync(join(restored, 'site-key.pem'))).toEqual(readFileSync(join(running.directory, 'site-key.pem')));

    const again = await place.start({ directory: restored });
    const owner = await signIn(again);
    expect((await owner.call('batches')).batches).toHaveLength(1);
    expect((await owner.call('journal')).entries.filter(({ kind }) => kind === 'backup-made')).toEqual([]);
    expect((await owner.call('readiness')).checks.find(({ id }) => id === 'R29')).toMatchObject({ state: 'open', level: 'look' });
    await again.stop();

    // Never over something that is there.
    expectSaid(await cli('backup', file, '--data', restored), 1, 'there already');
    expectSaid(await cli('restore', file, '--data', restored), 1, 'not empty');

    // One byte of the journal is another, and the list of files says nothing of it.
    const folder = place.directory();
    await extract({ file, cwd: folder });
    const book = readFileSync(join(folder, 'book.db'));
    const letter = book.indexOf('Barrel 1');
    book[letter] = 'C'.charCodeAt(0);
    writeFileSync(join(folder, 'book.db'), book);
    const forged = join(place.directory(), 'forged.tar.gz');
    await create({ gzip: true, file: forged, cwd: folder }, readdirSync(folder));
    const empty = join(place.directory(), 'empty');
    expectSaid(await cli('restore', forged, '--data', empty), 1, 'book.db in the backup was changed or damaged');
    expect(readdirSync(empty)).toEqual([]);
  });

  it('that reaches outside its folder, or is no backup, restores nothing', async () => {
    const folder = place.directory();
    writeFileSync(join(folder, 'outside'), 'text');
    mkdirSync(join(folder, 'in'));
    const crafted = join(folder, 'crafted.tar.gz');
    await create({ gzip: true, file: crafted, cwd: join(folder, 'in'), preservePaths: true }, ['../outside']);
    const target = join(folder, 'target');
    expectSaid(await cli('restore', crafted, '--data', target), 1, 'no backup of Brineward');
    writeFileSync(join(folder, 'noise'), Buffer.alloc(5_000, 7));
    expect(await cli('restore', join(folder, 'noise'), '--data', target)).toMatchObject({ code: 1 });
    expect(readdirSync(target)).toEqual([]);
  });
});

describe('export and import', { timeout: 120_000 }, () => {
  it('move readings to another directory, all of them, and once', async () => {
    const first = await shed();
    const csv = await cli('export', 'csv', '--data', first.directory);
    const senml = await cli('export', 'senml', '--data', first.directory);
    await first.stop();
    const files = place.directory();
    writeFileSync(join(files, 'all.csv'), csv.out);
    writeFileSync(join(files, 'all.json'), senml.out);

    const second = await place.start();
    expectSaid(await cli('import', join(files, 'all.csv'), '--data', second.directory), 1, 'Stop it, import, and start it again');
    await second.stop();
    expectSaid(await cli('import', join(files, 'all.csv'), '--data', second.directory), 0, '200 readings stored in 1 series');
    expectSaid(await cli('import', join(files, 'all.json'), '--data', second.directory), 0, '0 readings stored in 1 series; 200 were there already; 0 differ');
    expect((await cli('export', 'csv', '--data', second.directory)).out).toBe(csv.out);

    writeFileSync(join(files, 'bad.csv'), `${csv.out}2031-01-01T00:00:00Z,probe-1,temperature,Cel,18,good\n2026-05-03T00:00:00Z,probe-1,temperature,Cel,warm,good\n`);
    const partly = await cli('import', join(files, 'bad.csv'), '--data', second.directory);
    expectSaid(partly, 1, '200 were there already');
    expect(partly.error).toContain('1 refused: time-in-future');
    expect(partly.error).toContain('1 refused: not a number');
    writeFileSync(join(files, 'letter.txt'), 'Dear Sir,\n');
    expectSaid(await cli('import', join(files, 'letter.txt'), '--data', second.directory), 1, 'not written by export');
  });
});
