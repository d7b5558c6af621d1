import { fileURLToPath } from 'node:url';
import type { Browser, BrowserContext, Locator, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { dayMs, hourMs } from '#contract';
import { toRfc3339 } from '#domain/units/time.ts';
import { harnessStart, openApiHarness, openShed, type ApiClient, type ApiHarness } from '../helpers/api-harness.ts';
import { judge } from '../helpers/axe.ts';
import { launchChromium, sizes } from '../helpers/browser.ts';

/** From the tree into two drums by phone: the built screen before the real API. */
const dashboard = fileURLToPath(new URL('../../dashboard/dist', import.meta.url));

let browser: Browser;
let harness: ApiHarness;
let owner: ApiClient;
let context: BrowserContext | null = null;
let complaints: string[] = [];
beforeAll(async () => {
  browser = await launchChromium();
});
afterAll(() => browser.close());
afterEach(async () => {
  await context?.close();
  await harness.close();
  context = null;
  expect(complaints).toEqual([]);
});

const open = async (path: string, size: { readonly width: number; readonly height: number } = sizes.phone, theme: 'light' | 'dark' = 'light'): Promise<Page> => {
  context = await browser.newContext({ viewport: size, colorScheme: theme, timezoneId: 'Europe/Paris', locale: 'en-GB', reducedMotion: 'reduce' });
  const [name = '', value = ''] = (owner.cookie ?? '').split('=');
  await context.addCookies([{ name, value, url: harness.url }]);
  const page = await context.newPage();
  page.setDefaultTimeout(10_000);
  complaints = [];
  page.on('pageerror', (error) => complaints.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error' && !message.text().startsWith('Failed to load resource')) complaints.push(message.text());
  });
  await page.goto(harness.url + path);
  return page;
};

const begin = async (): Promise<void> => {
  harness = await openApiHarness({ dashboard, zone: 'Europe/Athens' });
  owner = await harness.as('owner');
};
const sheet = (page: Page): Locator => page.locator('dialog.sheet');

describe('picks in a browser', { timeout: 60_000 }, () => {
  it('are begun in one touch, weighed, counted, sorted, and started in a drum', async () => {
    await begin();
    for (const id of ['barrel-1', 'barrel-2']) await owner.call('addDrum', { body: { id, name: `Barrel ${id.slice(-1)}`, volumeL: 60 } });
    const page = await open('/picks');
    await page.locator('.none-yet').waitFor();
    const begun = page.getByRole('button', { name: 'Pick started' });
    expect((await begun.boundingBox())?.height).toBeGreaterThanOrEqual(96);
    await begun.click();
    expect((await owner.call('picks')).picks).toHaveLength(1);
    await sheet(page).getByRole('textbox', { name: 'Trees' }).fill('7, 8');
    await sheet(page).getByRole('group', { name: 'fruit, with stones' }).getByRole('textbox').fill('42');
    await sheet(page).getByRole('button', { name: 'Done' }).click();
    await sheet(page).waitFor({ state: 'detached' });

    await page.getByRole('button', { name: /^Count ripeness/ }).click();
    const keys = sheet(page).locator('.count-pad li button');
    for (const key of [1, 1, 1, 2, 2, 7]) await keys.nth(key).click();
    for (const key of await keys.all()) expect((await key.boundingBox())?.height).toBeGreaterThanOrEqual(96);
    await sheet(page).getByRole('button', { name: /^Take back/ }).click();
    expect(await sheet(page).locator('.count-total').innerText()).toMatch(/^5 of 100/);
    expect(await judge(page)).toEqual([]);
    await sheet(page).getByRole('button', { name: 'Done with 5' }).click();
    await sheet(page).waitFor({ state: 'detached' });

    await page.getByRole('button', { name: /^Sorted/ }).click();
    await sheet(page).getByRole('radio', { name: 'hail' }).check();
    await sheet(page).getByRole('group', { name: 'hail' }).getByRole('textbox').fill('2');
    await sheet(page).getByRole('button', { name: 'Add 2 kg, hail' }).click();
    await sheet(page).getByRole('button', { name: 'Sorted: 2 kg out' }).click();
    await sheet(page).waitFor({ state: 'detached' });

    await page.getByRole('button', { name: /^Start a batch/ }).click();
    await sheet(page).getByRole('radio', { name: 'Barrel 2, 60 L' }).check();
    await sheet(page).getByRole('button', { name: 'Open the batch' }).click();
    await page.locator('.trace').waitFor();
    const [pick] = (await owner.call('picks')).picks;
    // A drum of 60 L takes 33 kg; the rest is told and waits.
    expect(pick).toMatchObject({ pickedKg: 42, culledKg: 2, inBatchesKg: 33, unaccountedKg: 7, trees: ['7', '8'], maturity: { stage: 'turning', index: 1.4 } });
    expect(pick?.batches).toMatchObject([{ drum: 'barrel-2', kg: 33 }]);
    expect(await page.locator('.trace').innerText()).toContain(`33 kg of pick ${pick?.pick ?? ''}`);
  });

  it.each([['phone, day', sizes.phone, 'light'], ['laptop, night', sizes.laptop, 'dark']] as const)('show where the fruit went, without a fault for a screen reader: %s', async (_name, size, theme) => {
    await begin();
    const lot = await openShed(harness);
    await owner.call('addPick', { body: { at: toRfc3339(harnessStart - 3 * dayMs), massKg: 20, maturity: 'green' } });
    await owner.call('addPick', { body: { at: toRfc3339(harnessStart - hourMs), massKg: 30, block: 'upper terrace', counts: [30, 20, 10, 10, 10, 10, 5, 5] } });
    await owner.call('addDrum', { body: { id: 'barrel-2', name: 'Barrel 2', volumeL: 60 } });
    const page = await open('/picks', size, theme);
    await page.locator('.pick-card').nth(1).waitFor();
    const cards = page.locator('.pick-card');
    expect(await cards.nth(0).innerText()).toContain('one drum will hold two cures'.replace('one', 'One'));
    expect(await cards.nth(1).innerText()).toContain('Late: waiting for 72 h, of 48 h');
    await page.getByText('All numbers').click();
    expect(await page.locator('.pick-numbers tbody tr').count()).toBe(2);
    expect(await judge(page)).toEqual([]);
    expect(await page.evaluate('document.documentElement.scrollWidth')).toBeLessThanOrEqual(size.width);

    // A part is split off from the drum's own acts.
    await page.goto(`${harness.url}/drums/barrel-1`);
    await page.getByRole('button', { name: /^More:/ }).click();
    await page.getByRole('button', { name: /^Split/ }).click();
    await sheet(page).getByRole('group', { name: 'fruit that goes' }).getByRole('textbox').fill('10');
    expect(await sheet(page).locator('.worked-out').innerText()).toContain('20 kg and 18 L stay');
    expect(await judge(page)).toEqual([]);
    await sheet(page).getByRole('button', { name: 'Done' }).click();
    await sheet(page).waitFor({ state: 'detached' });
    const { trace } = await owner.call('batch', { params: { lot } });
    expect(trace.parts).toMatchObject([{ fruitKg: 10 }]);
    expect((await owner.call('drum', { params: { drum: 'barrel-2' } })).batch?.lot).toBe(trace.parts[0]?.lot);
  });
});
