import { fileURLToPath } from 'node:url';
import jsqr from 'jsqr';
import { PNG } from 'pngjs';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, expect, it } from 'vitest';
import { hourMs } from '#domain/units/time.ts';
import { openApiHarness, type ApiHarness } from '../helpers/api-harness.ts';
import { judge } from '../helpers/axe.ts';
import { launchChromium, sizes } from '../helpers/browser.ts';
import { makeSiteKey, storyOfLot } from '../helpers/lot-shed.ts';

/** The records for the owner, and for an inspector with a phone at a stall, before the real API. */
const dashboard = fileURLToPath(new URL('../../dashboard/dist', import.meta.url));

let browser: Browser;
let harness: ApiHarness;
let lot: string;
let fingerprint: string;
const contexts: BrowserContext[] = [];
const complaints: string[] = [];
beforeAll(async () => {
  browser = await launchChromium();
});
afterAll(() => browser.close());
beforeEach(async () => {
  harness = await openApiHarness({ dashboard });
  const key = makeSiteKey(harness);
  ({ fingerprint } = key);
  harness.collectorWrites({ kind: 'key-made', body: { publicKey: key.publicKey } });
  lot = await storyOfLot(harness);
});
afterEach(async () => {
  for (const context of contexts.splice(0)) await context.close();
  await harness.close();
  expect(complaints.splice(0)).toEqual([]);
});

const open = async (path: string, { owner = false, dark = false } = {}): Promise<Page> => {
  const context = await browser.newContext({ viewport: sizes.phone, colorScheme: dark ? 'dark' : 'light', timezoneId: 'Europe/Paris', locale: 'en-GB', reducedMotion: 'reduce' });
  contexts.push(context);
  if (owner) {
    const [name = '', value = ''] = ((await harness.as('owner')).cookie ?? '').split('=');
    await context.addCookies([{ name, value, url: harness.url }]);
  }
  const page = await context.newPage();
  page.setDefaultTimeout(10_000);
  page.on('pageerror', (error) => complaints.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error' && !message.text().startsWith('Failed to load resource')) complaints.push(message.text());
  });
  await page.goto(harness.url + path);
  return page;
};
const wide = (page: Page): Promise<number> => page.evaluate(() => document.documentElement.scrollWidth);

it('lets the owner see where each lot stands and what is missing, let somebody in, see what was looked at, and take it back', { timeout: 60_000 }, async () => {
  await harness.read('p1', [18]);
  const page = await open('/records', { owner: true });
  const row = page.getByRole('listitem', { name: `Lot ${lot}` });
  await row.getByText('released').waitFor();
  await row.getByText('Missing').waitFor();
  expect(await row.getByRole('link', { name: 'PDF' }).getAttribute('href')).toBe(`/api/records/${lot}.pdf`);
  await page.getByText(fingerprint).waitFor();
  expect(await judge(page)).toEqual([]);
  expect(await wide(page)).toBe(sizes.phone.width);

  await page.getByRole('button', { name: 'Let an inspector read' }).click();
  const sheet = page.getByRole('dialog');
  await sheet.getByLabel('For whom').fill('Market office');
  expect(await sheet.getByRole('button', { name: 'Make a code' }).isDisabled()).toBe(true);
  await sheet.getByRole('checkbox').check();
  expect(await judge(page)).toEqual([]);
  await sheet.getByRole('button', { name: 'Make a code' }).click();
  const code = await sheet.locator('.given-code').innerText();
  expect(code).toMatch(/^[A-Z2-9]{4}-[A-Z2-9]{4}$/);
  // The harness is reached on this machine only, which a phone cannot follow.
  await sheet.getByText(/known on this computer only/).waitFor();
  await sheet.getByRole('button', { name: 'Close' }).click();

  const visitor = harness.stranger();
  await visitor.call('openInspection', { body: { code } });
  await visitor.fetch(`/api/records/${lot}.pdf`);
  await page.reload();
  await page.getByText(/One look/).click();
  await page.getByText(`${lot}, PDF`).waitFor();
  await page.getByRole('button', { name: 'Take back' }).click();
  await page.getByRole('button', { name: 'Take back now' }).click();
  await page.getByText('One is over').waitFor();
  await visitor.refused('records', 'not-signed-in');
});

it('checks everything from the screen and says what it cannot tell', { timeout: 60_000 }, async () => {
  const page = await open('/records', { owner: true });
  await page.getByRole('button', { name: 'Check everything now' }).click();
  const found = page.getByText(/journal entries in one unbroken chain/);
  await found.waitFor();
  expect(await found.innerText()).toContain('cannot be told from here alone');
});

it('opens by the link in a QR code, shows page one and the key, and asks for a code again when the time is over', { timeout: 60_000 }, async () => {
  const owner = await harness.as('owner');
  const given = await owner.call('giveInspection', { body: { name: 'Market office', lots: [lot], hours: 4 } });
  const drawing = await open('/inspect', { dark: true });
  await drawing.evaluate(({ size, path }) => {
    document.body.innerHTML = `<svg width="400" viewBox="0 0 ${size} ${size}"><rect width="${size}" height="${size}" fill="#fff"/><path d="${path}" fill="#000"/></svg>`;
  }, given.qr);
  const { data, width, height } = PNG.sync.read(await drawing.locator('svg').screenshot());
  expect(jsqr.default(new Uint8ClampedArray(data), width, height)?.data).toBe(given.link);

  const page = await open(given.link.slice(harness.url.length));
  await page.getByRole('heading', { name: 'Records of one lot' }).waitFor();
  // What opens the door is not left where others read it.
  expect(page.url()).toBe(`${harness.url}/inspect`);
  expect(await judge(page)).toEqual([]);
  await page.getByRole('link', { name: lot }).click();
  const front = page.getByRole('article');
  await front.getByText('RELEASED').waitFor();
  await front.getByText('It is not an approval.', { exact: false }).waitFor();
  await page.getByText(fingerprint).waitFor();
  await page.getByRole('button', { name: /^Trace/ }).click();
  await page.getByText('Saturday market', { exact: false }).first().waitFor();
  expect(await judge(page)).toEqual([]);
  expect(await wide(page)).toBe(sizes.phone.width);
  harness.machine.advance(4 * hourMs);
  await page.reload();
  await page.getByLabel(/The code you were given/).waitFor();
});

it('takes a typed code, says when it opens nothing, and shows an inspector no other screen', { timeout: 60_000 }, async () => {
  const { code } = await (await harness.as('owner')).call('giveInspection', { body: { name: 'Market office', lots: [lot], hours: 4 } });
  const page = await open('/inspect', { dark: true });
  const field = page.getByLabel(/The code you were given/);
  await field.fill('AAAA-AAAA');
  await page.getByRole('button', { name: 'Open' }).click();
  await page.getByText(/This code opens nothing/).waitFor();
  expect(await judge(page)).toEqual([]);
  await field.fill(code.toLowerCase());
  await page.getByRole('button', { name: 'Open' }).click();
  await page.getByRole('heading', { name: 'Records of one lot' }).waitFor();
  await page.goto(`${harness.url}/`);
  await page.getByRole('heading', { name: 'Records of one lot' }).waitFor();
  await page.getByRole('button', { name: 'Leave' }).click();
  await field.waitFor();
});
