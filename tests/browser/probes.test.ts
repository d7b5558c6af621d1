import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { toRfc3339 } from '#domain/units/time.ts';
import { dayMs, hourMs } from '#contract';
import { harnessStart, openShed, type ApiHarness } from '../helpers/api-harness.ts';
import { openApiPage, type ApiPage, type ApiPageOptions } from '../helpers/api-page.ts';
import { judge } from '../helpers/axe.ts';
import { collectorStatus } from '../helpers/collector-status.ts';
import { launchChromium, sizes } from '../helpers/browser.ts';

let browser: Browser;
let visit: ApiPage | null = null;
beforeAll(async () => {
  browser = await launchChromium();
});
afterAll(() => browser.close());
afterEach(async () => {
  await visit?.end();
  expect(visit?.complaints ?? []).toEqual([]);
  visit = null;
});

/** One drum with its probe, another probe that has just been heard, one that is silent, and a pH probe nobody has calibrated. */
const fill = async (harness: ApiHarness): Promise<void> => {
  await openShed(harness);
  await harness.read('p2', [18.2, 18.4, 18.6]);
  await harness.read('gone', [18, 18], { until: harnessStart - 5 * hourMs });
  await harness.read('glass', [4.4, 4.41], { channel: 'ph' });
  await harness.read('glass', [0.1712, 0.1713], { channel: 'ph-mv' });
  trouble(harness);
};
/** What the collector says of a clock that is wrong, a cable pulled out, and a store elsewhere that is away. */
const trouble = (harness: ApiHarness): void => {
  const cable = { kind: 'serial', name: '/dev/ttyUSB0', state: 'lost', trouble: 'the device is gone', readings: 3_000, refused: { 'line-cut': 3 }, reopened: 1, lastReadingAt: harnessStart - hourMs } as const;
  const store = { kind: 'influx', status: 'ok', place: 'http://shed.local:8086, cure', trouble: 'connection refused', outbox: { waiting: 1_200, refused: 0, mostWaiting: 500_000, settledLate: { duplicates: 0, conflicts: 0 } } } as const;
  const clocks = { 'rtc-less': { refused: 40, reason: 'time-before-2020', at: harnessStart }, p1: { refused: 1, reason: 'time-in-future', at: harnessStart - hourMs } };
  writeFileSync(join(harness.directory, 'collector-status.json'), JSON.stringify({ ...collectorStatus, writtenAt: harness.machine.now(), sources: [cable], store, clocks }));
  harness.service.look();
};
const open = async (path: string, look: Pick<ApiPageOptions, 'size' | 'theme'> = {}): Promise<ApiPage> => {
  visit = await openApiPage(browser, { path: () => path, zone: 'Europe/Rome', fill, ...look });
  return visit;
};

describe('the probes in a browser', { timeout: 60_000 }, () => {
  it('are there with what they say; a new one takes the place of the old one, and the drum keeps its story', async () => {
    const { page, harness } = await open('/probes');
    const unplaced = page.getByRole('region', { name: 'Not placed' });
    await unplaced.waitFor();
    expect(await unplaced.getByRole('heading', { level: 3 }).allInnerTexts()).toEqual(expect.arrayContaining(['gone', 'glass', 'p2']));
    await page.getByText('Silent; the other probes speak.').waitFor();
    await page.getByText('The electrode was never calibrated here.').waitFor();
    await page.getByRole('button', { name: 'Place p2, brine temperature' }).click();
    const sheet = page.getByRole('dialog');
    await sheet.getByRole('radio', { name: 'Barrel 1' }).check();
    await sheet.getByRole('radio', { name: '1 h ago' }).check();
    await sheet.getByRole('button', { name: 'Replace p1' }).click();
    await page.getByRole('region', { name: 'In the drums' }).getByRole('heading', { name: 'p2' }).waitFor();
    const { placements } = harness.service.model.shed();
    const from = placements.get('p2/temperature')?.[0]?.from;
    expect(from).toBeLessThanOrEqual(harnessStart - hourMs + 60_000);
    expect(placements.get('p1/temperature')).toMatchObject([{ drum: 'barrel-1' }, { drum: null, from }]);
  });

  it('calibrate a pH probe by its live reading and by hand, with a verdict before anything is written', async () => {
    const { page, harness } = await open('/probes', { size: sizes.phone });
    await page.getByRole('button', { name: 'Calibrate pH', exact: true }).click();
    const sheet = page.getByRole('dialog');
    await sheet.getByLabel('Buffers are at').fill('25');
    await sheet.getByText('171.3 mV').waitFor();
    await sheet.getByLabel('Shows, mV').nth(0).fill('-14');
    await sheet.getByLabel('Shows, mV').nth(1).fill('160');
    await sheet.getByText('Slope 98.0 %').waitFor();
    expect(await judge(page)).toEqual([]);
    for (const index of [0, 1]) await sheet.locator('.bottle summary').nth(index).click();
    await sheet.getByLabel('Lot of the bottle').nth(1).fill('B7');
    expect(await judge(page)).toEqual([]);
    await sheet.getByLabel('Opened on').nth(1).fill('2026-09-20');
    await sheet.getByLabel('Read before it was adjusted, pH').nth(1).fill('4,08');
    expect(await sheet.evaluate((element) => element.scrollWidth <= element.clientWidth)).toBe(true);
    await sheet.getByRole('button', { name: 'Write it down' }).click();
    await page.getByText('glass: slope 98 %, good').waitFor();
    expect(harness.service.model.shed().calibrations.get('glass')).toMatchObject([{ kind: 'ph', temperatureC: 25, points: [{ ph: 7, mv: -14 }, { ph: 4, mv: 160, bottle: { lot: 'B7', openedOn: '2026-09-20' } }], asFound: [{ ph: 4, reads: 4.08 }] }]);
    // The bottle of last time stands there the next time, in the check of a meter held in the hand as well.
    await page.getByRole('button', { name: 'Calibrate pH', exact: true }).click();
    await sheet.getByText('Bottle: lot B7').waitFor();
    expect([await sheet.getByLabel('Opened on').nth(1).inputValue(), await sheet.getByLabel('Lot of the bottle').nth(0).inputValue(), await sheet.getByLabel('Read before it was adjusted, pH').nth(1).inputValue()]).toEqual(['2026-09-20', '', '']);
  });

  it('show their history with its numbers, and a password once', async () => {
    const { page } = await open('/probes', { theme: 'dark' });
    await page.getByRole('button', { name: 'History of p2' }).click();
    const card = page.getByRole('listitem', { name: 'p2' });
    await card.getByText('The numbers').click();
    await card.getByRole('cell', { name: '18.6' }).first().waitFor();
    await page.getByRole('button', { name: 'Password of p2' }).click();
    await page.getByRole('button', { name: 'Make a password' }).click();
    expect(await page.getByLabel('Command').innerText()).toMatch(/^mosquitto_pub -h 127\.0\.0\.1 -p 1883 -u p2 -P [\w-]{20} -t brineward\/home\/probe\/p2\/temperature -m 18\.4$/);
    expect(await judge(page)).toEqual([]);
  });

  it.each([{ size: sizes.laptop, theme: 'light' }, { size: sizes.phone, theme: 'dark' }] as const)('are accessible and fit: $theme, $size.width', async (look) => {
    const { page } = await open('/probes', look);
    await page.getByRole('region', { name: 'Not placed' }).waitFor();
    await page.getByRole('region', { name: 'Cables and store' }).getByText('the device is gone').waitFor();
    await page.getByRole('listitem', { name: 'rtc-less' }).getByText(/40 readings were set aside/).waitFor();
    expect(await judge(page)).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth <= window.innerWidth)).toBe(true);
  });
});

describe('the file of a logger in a browser', { timeout: 60_000 }, () => {
  const directory = mkdtempSync(join(tmpdir(), 'brineward-file-'));
  afterAll(() => rmSync(directory, { recursive: true }));

  it('is handed in, understood, mended where the guess is wrong, and ordered; its report says what was refused', async () => {
    const file = join(directory, 'Logger 7.csv');
    // Invented rows: which of day and month comes first cannot be told from them.
    writeFileSync(file, 'Logger 7\nDate;Temp\n01.10.2026 08:00;18,5\n01.10.2026 08:10;warm\n01.10.2026 08:20;18,4\n');
    const { page, harness } = await open('/logger-file', { size: sizes.phone });
    await page.getByLabel('The file').setInputFiles(file);
    await page.getByText('1 Oct 2026 08:00, 18.5').waitFor();
    await page.getByText('the value is no number').waitFor();
    expect(await judge(page)).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth <= window.innerWidth)).toBe(true);
    await page.getByLabel('Times are written').selectOption('month-day-year');
    await page.getByText('10 Jan 2026 08:00, 18.5').waitFor();
    await page.getByLabel('Times are written').selectOption('day-month-year');
    await page.getByLabel('Clock of the logger').fill('+01:00');
    await page.getByText('1 Oct 2026 09:00, 18.5').waitFor();
    await page.getByRole('button', { name: /^Take it in/ }).click();
    await page.getByText('waits', { exact: true }).waitFor();
    const [ordered] = [...harness.service.model.shed().imports.values()];
    expect(ordered).toMatchObject({ file: 'Logger 7.csv', mapping: { probe: 'logger-7', zone: '+01:00', timeFormat: 'day-month-year', decimal: ',', skipRows: 2, delimiter: ';' } });
    harness.collectorWrites({ kind: 'import-finished', body: { id: ordered?.id ?? '', rows: 3, stored: 2, duplicates: 0, conflicts: 0, refused: { 'not-a-number': 1 }, from: toRfc3339(harnessStart - 2 * dayMs), to: toRfc3339(harnessStart - 2 * dayMs) } });
    await page.getByText('3 rows read: 2 readings stored, 1 refused.').waitFor();
    await page.getByText('1 × the value is no number').waitFor();
    expect(await judge(page)).toEqual([]);
  });
});
