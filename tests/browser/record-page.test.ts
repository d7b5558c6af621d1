import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { SiteKey } from '#collector';
import { openApiHarness, type ApiHarness } from '../helpers/api-harness.ts';
import { judge } from '../helpers/axe.ts';
import { launchChromium, sizes } from '../helpers/browser.ts';
import { makeSiteKey, storyOfLot } from '../helpers/lot-shed.ts';

/** The page of a record, opened from a disk: no server, no network. */
let harness: ApiHarness;
let browser: Browser;
let page: Page;
let folder: string;
let key: SiteKey;
let lot: string;
let file: Buffer;

beforeAll(async () => {
  harness = await openApiHarness({ dashboard: fileURLToPath(new URL('../../dashboard/dist', import.meta.url)) });
  folder = mkdtempSync(join(tmpdir(), 'brineward-page-'));
  key = makeSiteKey(harness);
  lot = await storyOfLot(harness);
  const answer = await fetch(`${harness.url}/api/records/${lot}.html`, { headers: { cookie: (await harness.as('owner')).cookie ?? '' } });
  expect(answer.status).toBe(200);
  file = Buffer.from(await answer.arrayBuffer());
  browser = await launchChromium();
  page = await (await browser.newContext({ viewport: sizes.phone })).newPage();
}, 60_000);
afterAll(async () => {
  await browser.close();
  await harness.close();
  rmSync(folder, { recursive: true });
});

const asked: string[] = [];
const open = async (bytes: Uint8Array): Promise<void> => {
  const path = join(folder, 'record.html');
  writeFileSync(path, bytes);
  page.removeAllListeners('request');
  page.on('request', (request) => void asked.push(request.url()));
  await page.goto(pathToFileURL(path).href);
};
const verdict = (): Promise<string> => page.locator('.verdict .word').innerText();

describe('the page of a record', { timeout: 60_000 }, () => {
  it('says verified, with the fingerprint to compare and the lot, and asks the network for nothing', async () => {
    asked.length = 0;
    await open(file);
    expect(await verdict()).toContain('VERIFIED');
    expect(await page.locator('.verdict').innerText()).toContain(key.fingerprint);
    const text = await page.locator('main').innerText();
    for (const part of [`Lot ${lot}`, 'RELEASED', 'pH of packed jars at most 4.30', 'Saturday market', 'cloudy <before>, "clear" after & good', 'It is not an approval']) expect(text).toContain(part);
    expect(await page.locator('svg rect').count()).toBeGreaterThan(5);
    expect(asked.filter((url) => !url.startsWith('file:'))).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(sizes.phone.width);
    expect(await judge(page)).toEqual([]);
  });

  it('gives the signed data as the file that a script of one\'s own can check', async () => {
    await open(file);
    const [saved] = await Promise.all([page.waitForEvent('download'), page.getByRole('link', { name: 'Save the signed data' }).click()]);
    expect(saved.suggestedFilename()).toBe(`record-${lot}.json`);
    const served = await fetch(`${harness.url}/api/records/${lot}.json`, { headers: { cookie: (await harness.as('owner')).cookie ?? '' } });
    expect(readFileSync(await saved.path(), 'utf8')).toBe(await served.text());
  });

  it('says altered when any one byte of its data is another', async () => {
    const start = file.indexOf('id="record">') + 'id="record">'.length;
    const end = file.indexOf('</script>', start);
    const places = [0, 1, 2, 12, ...[0.02, 0.1, 0.2, 0.35, 0.5, 0.65, 0.8, 0.95, 0.99].map((share) => Math.floor(share * (end - start))), end - start - 2, end - start - 1];
    for (const [index, place] of places.entries()) {
      const changed = Buffer.from(file);
      changed[start + place] = (changed[start + place] ?? 0) ^ (index % 2 === 0 ? 1 : 0x20);
      await open(changed);
      expect({ place, says: (await verdict()).replace(/\W+/g, '') }).toEqual({ place, says: 'ALTERED' });
    }
    expect(await page.title()).toContain('ALTERED');
    expect(readFileSync(join(folder, 'record.html')).length).toBe(file.length);
  });

  it('says altered when a space is put in, a field is put in, or the key is another', async () => {
    const text = file.toString('utf8');
    const other = Buffer.alloc(32, 7).toString('base64url');
    for (const changed of [text.replace('"record":{', '"record": {'), text.replace('"seal":{', '"extra":1,"seal":{'), text.replace(key.publicKey, other), text.replace('{"record":{', '{"record":{"note":"all good",')]) {
      expect(changed).not.toBe(text);
      await open(Buffer.from(changed));
      expect(await verdict()).toContain('ALTERED');
    }
  });
});
