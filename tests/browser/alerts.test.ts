import { fileURLToPath } from 'node:url';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { harnessStart, openApiHarness, openShed, warmAlert, type ApiHarness } from '../helpers/api-harness.ts';
import { judge } from '../helpers/axe.ts';
import { launchChromium, sizes } from '../helpers/browser.ts';

/** The built screen before the real API; the test plays the collector, which sends. */
const dashboard = fileURLToPath(new URL('../../dashboard/dist', import.meta.url));
let browser: Browser;
let harness: ApiHarness;
let context: BrowserContext | null = null;
let complaints: string[] = [];
beforeAll(async () => {
  browser = await launchChromium();
  harness = await openApiHarness({ dashboard, zone: 'Europe/Rome' });
  const lot = await openShed(harness);
  harness.collectorWrites({ kind: 'alert-raised', body: warmAlert(harness, lot) });
});
afterAll(async () => {
  await browser.close();
  await harness.close();
});
afterEach(async () => {
  await context?.close();
  context = null;
  expect(complaints).toEqual([]);
});

const open = async (path: string, { size = sizes.laptop, theme = 'light' }: { readonly size?: { readonly width: number; readonly height: number }; readonly theme?: 'light' | 'dark' } = {}): Promise<Page> => {
  const owner = await harness.as('owner');
  context = await browser.newContext({ viewport: size, colorScheme: theme, timezoneId: 'Europe/Paris', locale: 'en-GB', reducedMotion: 'reduce' });
  const [name = '', value = ''] = (owner.cookie ?? '').split('=');
  await context.addCookies([{ name, value, url: harness.url }]);
  const page = await context.newPage();
  page.setDefaultTimeout(10_000);
  complaints = [];
  page.on('pageerror', (error) => complaints.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
  await page.goto(harness.url + path);
  return page;
};

describe('alerts in a browser', { timeout: 60_000 }, () => {
  it('are reached from the wall, written down, put aside and taken back, seen, and judged again', async () => {
    const page = await open('/');
    await page.getByRole('link', { name: '1 alert', exact: true }).click();
    const card = page.getByRole('article').filter({ hasText: 'Barrel 1 is warm.' });
    await card.getByRole('button', { name: 'What was done' }).click();
    await page.getByLabel('What you did').fill('Set it in the shade');
    await page.getByRole('radio', { name: 'fruit kept' }).check();
    await page.getByRole('button', { name: 'Write it down' }).click();
    await card.getByText('owner: Set it in the shade (fruit kept)').waitFor();
    await card.getByRole('button', { name: 'Put aside' }).click();
    await page.getByRole('radio', { name: '4 hours' }).check();
    await page.getByLabel('Why').fill('The door stood open');
    await page.getByRole('button', { name: 'Put aside for 4 hours' }).click();
    await page.getByText('1 put aside.').waitFor();
    expect(await card.innerText()).toContain('Put aside by owner until 18:00: The door stood open');
    await card.getByRole('button', { name: 'Take it back' }).click();
    await page.getByText('1 not yet seen.').waitFor();
    await card.getByRole('button', { name: 'Stop judging this limit' }).click();
    await page.getByLabel('Why').fill('Its probe is being mended');
    await page.getByRole('dialog').getByRole('button', { name: 'Stop judging this limit' }).click();
    await page.getByRole('heading', { name: 'Not judged now' }).waitFor();
    await page.getByRole('button', { name: 'Judge it again' }).click();
    await expect.poll(() => page.getByRole('heading', { name: 'Not judged now' }).count()).toBe(0);
    await card.getByRole('button', { name: 'I have seen this' }).click();
    await page.getByText('1 seen and still outside.').waitFor();
    const { alerts } = await (await harness.as('owner')).call('alerts');
    expect(alerts).toMatchObject([{ state: 'acknowledged', shelf: null, actions: [{ text: 'Set it in the shade', disposition: 'kept' }] }]);
  });

  it('a webhook is added with its key shown once, routed and tried; the answer of the collector is shown', async () => {
    const page = await open('/alerts/outlets');
    await page.getByRole('button', { name: 'Add a webhook' }).click();
    await page.getByLabel('What it is').fill('Anna, phone');
    await page.getByLabel('Address (secret)').fill('https://hooks.example.org/secret');
    await page.getByRole('button', { name: 'Keep it' }).click();
    await page.getByText(/^whsec_/).waitFor();
    const card = page.getByRole('listitem').filter({ hasText: 'Webhook to hooks.example.org' });
    await card.getByRole('button', { name: 'What and when' }).click();
    await page.getByRole('checkbox', { name: /^Quiet hours/ }).check();
    await page.getByRole('button', { name: 'Keep it' }).click();
    await card.getByText('From 22:00 to 06:00 only high ones').waitFor();
    await card.getByRole('button', { name: 'Send a test' }).click();
    await card.getByText('Sending …').waitFor();
    harness.collectorWrites({ kind: 'announced', body: { delivery: 'd', outlet: 'anna-phone', what: 'test', to: 'hooks.example.org', alerts: [], at: new Date(harnessStart).toISOString(), lateS: 0, attempts: 1, result: 'failed', detail: 'hooks.example.org answered 404.' } });
    await card.getByText('test, failed: hooks.example.org answered 404.').waitFor();
    expect(await page.content()).not.toContain('example.org/secret');
  });

  it.each([
    ['/alerts', { size: sizes.laptop, theme: 'light' }],
    ['/alerts', { size: sizes.phone, theme: 'dark' }],
    ['/alerts/outlets', { size: sizes.phone, theme: 'light' }],
    ['/alerts/measures', { size: sizes.phone, theme: 'dark' }],
    ['/alerts/past', { size: sizes.phone, theme: 'light' }],
  ] as const)('%s is accessible and fits: %o', async (path, look) => {
    const page = await open(path, look);
    await page.locator('.alerts .alert-card, .outlet-list li, .alerts table, .none-yet').first().waitFor();
    expect(await judge(page)).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth <= window.innerWidth)).toBe(true);
  });
});
