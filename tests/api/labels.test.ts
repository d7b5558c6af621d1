import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import jsqr from 'jsqr';
import { PNG } from 'pngjs';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openSiteKey } from '#collector';
import { hourMs, type Problem, type RouteBody } from '#contract';
import { toRfc3339 } from '#domain/units/time.ts';
import { harnessStart, openApiHarness, openShed, expectProblem, type ApiClient, type ApiHarness } from '../helpers/api-harness.ts';
import { pdfPages } from '../helpers/pdf.ts';
import { systemPart } from '../helpers/system-parts.ts';
import { valueOf } from '../helpers/value-of.ts';

/**
 * Labels as another program reads them: words by pdftotext, the square by a reader of other authors. Fields: Regulation (EU) 1169/2011,
 * articles 9 and 21, annex IX 5; least letters: article 13(2), small x of 1.2 mm.
 */
let harness: ApiHarness;
let owner: ApiClient;
let lot: string;
beforeEach(async () => {
  harness = await openApiHarness({ zone: 'Europe/Athens' });
  owner = await harness.as('owner');
  lot = await openShed(harness);
});
afterEach(() => harness.close());

const at = (hours = 0): string => toRfc3339(harnessStart + hours * hourMs);
const add = (body: RouteBody<'addEntry'>) => owner.call('addEntry', { params: { lot }, body });
const producer = (over: RouteBody<'setProducer'> = {}): RouteBody<'setProducer'> => ({
  name: 'Eleni Demo', address: 'Terrace Road 3, 24100 Kalamata', licence: 'GR-17', product: 'Olives in brine', bestBeforeMonths: 12, storage: 'Keep cool and dark.', afterOpening: 'keep cold, eat within two weeks',
  webAddress: 'https://olives.example/', weights: [{ jarMl: 720, netG: 650, drainedG: 360 }], ...over,
});
const ingredients = ['olives', 'water', 'salt', 'wine vinegar (sulphites)', 'celery'];

/** A lot in jars that the packed-jar rule finds inside. */
const releasedLot = async (): Promise<string> => {
  const calibrate = async (hours: number): Promise<void> => {
    harness.clock.set(harnessStart + hours * hourMs);
    await owner.call('calibrate', { params: { probe: 'meter-1' }, body: { kind: 'ph', points: [{ ph: 7, mv: 0 }, { ph: 4, mv: 174.5 }, { ph: 4.01, mv: 173.9 }], temperatureC: 20 } });
  };
  await add({ kind: 'measured', at: at(-1), quantity: 'ph', value: 3.9 });
  await add({ kind: 'jarred', at: at(), jars: 60, jarMl: 720, brine: '80 g/L', ingredients });
  for (const [hours, jars] of [[26, ['1', '2']], [75, ['1']]] as const) {
    await calibrate(hours);
    for (const jar of jars) await add({ kind: 'jar-ph', at: at(hours), value: 3.9, instrument: 'meter-1', jar });
  }
  const { fingerprint, publicKey } = valueOf(openSiteKey(harness.directory, true));
  harness.collectorWrites({ kind: 'key-made', body: { publicKey } });
  return fingerprint;
};
const print = async (query = ''): Promise<Uint8Array> => {
  const answer = await fetch(`${harness.url}/api/labels/${lot}.pdf${query}`, { headers: { cookie: owner.cookie ?? '' } });
  expect([answer.status, answer.headers.get('content-type'), answer.status === 200 ? '' : await answer.text()]).toEqual([200, 'application/pdf', '']);
  return new Uint8Array(await answer.arrayBuffer());
};
const refused = async (code: Parameters<typeof expectProblem>[1], query = ''): Promise<Problem> => expectProblem(await owner.fetch(`/api/labels/${lot}.pdf${query}`), code);

/** The first page in dots, as a printer would set it. */
const rendered = (pdf: Uint8Array, dpi: number): PNG => {
  const folder = mkdtempSync(join(tmpdir(), 'brineward-label-'));
  try {
    writeFileSync(join(folder, 'labels.pdf'), pdf);
    execFileSync(systemPart('pdftoppm'), ['-png', '-r', String(dpi), '-f', '1', '-l', '1', join(folder, 'labels.pdf'), join(folder, 'page')]);
    const file = readdirSync(folder).find((name) => name.endsWith('.png')) ?? '';
    return PNG.sync.read(readFileSync(join(folder, file)));
  } finally {
    rmSync(folder, { recursive: true });
  }
};
const scanned = (pdf: Uint8Array, dpi = 200): string | null => {
  const { data, width, height } = rendered(pdf, dpi);
  return jsqr.default(new Uint8ClampedArray(data), width, height)?.data ?? null;
};

describe('a label', () => {
  it('says what a jar holds, and its square leads to the record and names the key', async () => {
    const fingerprint = await releasedLot();
    await owner.call('setProducer', { body: producer() });
    const pdf = await print('?single=true&labels=2');
    const pages = pdfPages(pdf);
    expect(pages).toHaveLength(2);
    const words = (pages[0] ?? '').replaceAll(/\s+/g, ' ');
    for (const told of ['Olives in brine', 'Ingredients: olives, water, salt, wine vinegar (SULPHITES), CELERY.', 'Net weight 650 g', 'Drained weight 360 g', `Lot ${lot}`, 'Packed on 3 Oct 2026.', 'Ready from 17 Oct 2026.', 'Best before 3 Oct 2027', 'Keep cool and dark.', 'After opening: keep cold', 'Made by Eleni Demo, Terrace Road 3, 24100 Kalamata, licence GR-17', fingerprint]) expect(words).toContain(told);
    expect(words).not.toMatch(/not released|safe|approved/i);
    expect(scanned(pdf)).toBe(`https://olives.example/api/records/${lot}.html#key=${fingerprint.replaceAll(' ', '-')}`);
    // A printer at half that, as shops have them.
    expect(scanned(pdf, 150)).toContain(lot);
  });

  it('fills sheets: one for each jar that is here, after the places that are used', async () => {
    await releasedLot();
    await owner.call('setProducer', { body: producer() });
    // 60 labels, eight a sheet.
    expect(pdfPages(await print()).length).toBe(8);
    const after = pdfPages(await print('?labels=6&skip=5'));
    expect(after.map((text) => text.split(`Lot ${lot}`).length - 1)).toEqual([3, 3]);
  });

  it.each([['80', '54'], ['99', '67.7'], ['140', '90']])('nothing of it is cut at %s by %s mm', async (width, height) => {
    await releasedLot();
    await owner.call('setProducer', { body: producer() });
    const pdf = await print(`?single=true&labels=1&labelWidthMm=${width}&labelHeightMm=${height}`);
    const { data, width: dots, height: rows } = rendered(pdf, 300);
    // 2.4 mm along each edge is white, at 300 dots an inch.
    const edge = Math.floor((2.4 / 25.4) * 300);
    let dark = 0;
    for (let y = 0; y < rows; y += 1) for (let x = 0; x < dots; x += 1) if ((x < edge || y < edge || x >= dots - edge || y >= rows - edge) && (data[(y * dots + x) * 4] ?? 255) < 128) dark += 1;
    expect(dark).toBe(0);
    expect(pdfPages(pdf)[0]?.replaceAll(/\s+/g, ' ')).toContain('Best before 3 Oct 2027');
    expect(scanned(pdf, 300)).toContain(lot);
  });

  it('too small for its words is refused by the field that does not fit', async () => {
    await releasedLot();
    await owner.call('setProducer', { body: producer({ statement: 'Made in a home kitchen that is not inspected. '.repeat(6).trim() }) });
    expect((await refused('label-does-not-fit', '?single=true&labelWidthMm=80&labelHeightMm=50')).errors).toEqual([{ path: 'statement', message: 'does not fit' }]);
    expect((await refused('label-does-not-fit', '?single=true&labelWidthMm=25&labelHeightMm=60')).errors?.[0]?.path).toBe('code');
    await owner.call('setProducer', { body: producer({ product: 'Unbreakablynamedolivesinbrine'.repeat(3) }) });
    expect((await refused('label-does-not-fit', '?single=true')).errors?.[0]?.path).toBe('product');
  });

  it('lacks nothing: what is missing is told all at once, and a weight is never guessed', async () => {
    await releasedLot();
    expect((await refused('label-incomplete')).errors?.map(({ path }) => path)).toEqual(['product', 'name', 'address', 'weights', 'bestBeforeMonths', 'storage']);
    await owner.call('setProducer', { body: producer({ weights: [{ jarMl: 370, netG: 340, drainedG: 190 }] }) });
    expect((await refused('label-incomplete')).errors?.map(({ path }) => path)).toEqual(['weights']);
  });
});

describe('a lot that may not go', () => {
  it('has no label before its jars are measured, while it is on hold, nor when they are outside', async () => {
    await owner.call('setProducer', { body: producer() });
    await refused('not-jarred');
    await releasedLot();
    await print('?labels=1');
    await add({ kind: 'hold', at: toRfc3339(harness.clock.now()), reason: 'a lid bulged' });
    expect((await refused('on-hold')).detail).toContain('a lid bulged');
    // To look at, and struck across.
    const proof = await print('?labels=1&single=true&proof=true');
    const words = spawnSync(systemPart('pdftotext'), ['-raw', '-', '-'], { input: proof, encoding: 'utf8' }).stdout;
    expect(words.replaceAll(/\s+/g, ' ')).toContain('NOT RELEASED');
    expect(scanned(proof)).toBeNull();
  });

  it('not even with a release by exception: unknown is not inside', async () => {
    await owner.call('setProducer', { body: producer() });
    await add({ kind: 'measured', at: at(-1), quantity: 'ph', value: 3.9 });
    await add({ kind: 'jarred', at: at(), jars: 60, jarMl: 720, brine: '80 g/L', ingredients });
    await add({ kind: 'release', at: at(), by: 'Eleni', exception: 'laboratory report 17' });
    expect((await refused('packed-jars-unknown')).detail).toContain('is not known');
  });
});

describe('who makes it', () => {
  it('is set by the owner alone, with a note to ask the authority', async () => {
    expect(await owner.call('producer')).toEqual({ producer: null, note: expect.stringContaining('local authority') as string });
    const helper = await harness.as('helper');
    await helper.refused('setProducer', 'not-allowed', { body: producer() });
    expect((await owner.call('setProducer', { body: producer() })).producer).toMatchObject({ name: 'Eleni Demo', formula: null, weights: [{ jarMl: 720 }] });
    await harness.restart();
    expect((await helper.call('producer')).producer?.product).toBe('Olives in brine');
    for (const [body, path] of [[producer({ weights: [{ jarMl: 720, netG: 300, drainedG: 360 }] }), 'weights.0.drainedG'], [producer({ webAddress: 'olives' }), 'webAddress'], [producer({ sheet: { pageWidthMm: 210, pageHeightMm: 297, columns: 3, rows: 4, marginTopMm: 0, marginLeftMm: 0, gapXMm: 0, gapYMm: 0, labelWidthMm: 99, labelHeightMm: 60 } }), 'sheet.labelWidthMm']] as const) {
      expect((await owner.refused('setProducer', 'does-not-fit', { body })).errors?.[0]?.path).toBe(path);
    }
  });
});
