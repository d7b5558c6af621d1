import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { openBook } from '#collector';
import { openAccessStore } from '../../../api/access/access-store.ts';
import { cli, expectSaid } from '../../helpers/cli.ts';
import { createPlace } from '../../helpers/running.ts';
import { valueOf } from '../../helpers/value-of.ts';

/** People from the command line: an inspector's account comes with the lots it reads. */
const place = createPlace();
let directory = '';
beforeAll(() => {
  directory = place.directory();
  valueOf(openBook(join(directory, 'book.db'))).close();
  vi.stubEnv('BRINEWARD_PASSWORD', 'a password of somebody');
});
afterAll(async () => {
  vi.unstubAllEnvs();
  await place.clear();
});

describe('user add', { timeout: 60_000 }, () => {
  it('gives an inspector lots, and refuses one without', async () => {
    expectSaid(await cli('user', 'add', 'ines', '--role', 'inspector', '--data', directory), 1, 'An inspector needs --lots', 'Nothing was changed');
    expectSaid(await cli('user', 'add', 'ines', '--role', 'inspector', '--lots', 'H26-A7, H26-B5', '--data', directory), 0, 'reads H26-A7, H26-B5');
    const access = valueOf(openAccessStore(join(directory, 'access.db')));
    expect(await access.check('ines', 'a password of somebody')).toEqual({ name: 'ines', role: 'inspector', reads: { lots: ['H26-A7', 'H26-B5'], inspection: null, until: null } });
    access.close();
  });

  it('gives nobody else lots', async () => {
    expectSaid(await cli('user', 'add', 'ana', '--lots', 'H26-A7', '--data', directory), 1, 'nobody else has them');
  });
});
