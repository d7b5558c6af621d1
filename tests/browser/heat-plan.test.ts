import { fileURLToPath } from 'node:url';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { dayMs, hourMs, minuteMs, toRfc3339 } from '#domain/units/time.ts';
import { harnessStart, openApiHarness, openShed, type ApiHarness } from '../helpers/api-harness.ts';
import { judge } from '../helpers/axe.ts';
import { launchChromium, sizes } from '../helpers/browser.ts';
import { drumOfMany, runTwoNodeDrum } from '../helpers/two-node-drum.ts';

/** The built screen before the real API, over a made-up drum with four days of readings and one change nobody wrote down. */
const dashboard = fileURLToPath(new URL('../../dashboard/dist', import.meta.url));
const days = 4;
const from = harnessStart - days * dayMs;
let browser: Browser;
let harness: ApiHarness;
let context: BrowserContext | null = null;
let complaints: string[] = [];
beforeAll(async () => {
  browser = await launchChromium();
  harness = await openApiHarness({ dashboard, zone: 'Europe/Rome' });
  const owner = await harness.as('owner');
  await openShed(harness);
  const trace = runTwoNodeDrum({ ...drumOfMany(3, from, days), timeConstantHours: 9, offsetC: 0, meanC: 21, swingC: 9, weatherSdC: 0.3, noiseC: 0.05, changes: [{ at: harnessStart - 6 * hourMs, differenceC: -6 }] });
  const options = { everyMs: 10 * minuteMs, until: harnessStart - 5 * minuteMs };
  await harness.read('probe-1', trace.drum.map(({ temperatureC }) => temperatureC), options);
  await harness.read('shed-air', trace.air.map(({ temperatureC }) => temperatureC), { channel: 'air-temperature', ...options });
  await owner.call('place', { params: { probe: 'probe-1' }, body: { channel: 'temperature', drum: 'barrel-1', from: toRfc3339(from) } });
  await harness.service.ask();
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

describe('the heat plan in a browser', { timeout: 60_000 }, () => {
  it('says what a typed day does to the drum, with a picture and its numbers', async () => {
    const page = await open('/heat-plan');
    const drum = page.getByRole('region', { name: 'Barrel 1', exact: true });
    await drum.waitFor();
    expect(await drum.getByRole('img').count()).toBe(1);
    await page.getByLabel('highest °C').nth(1).fill('39');
    await page.getByLabel('lowest °C').nth(1).fill('26');
    await page.getByRole('button', { name: /^Set the air of Sun/ }).click();
    await drum.getByText(/tomorrow about/).first().waitFor();
    expect(await drum.innerText()).toMatch(/(Passes|Is likely to pass) \d\d °C tomorrow about \d\d:\d0 \(± (\d+|½) h\)\./);
    expect(await drum.getByRole('list', { name: 'What helps' }).innerText()).toMatch(/sealed bottles? of ice/);
    await drum.getByText('The numbers').click();
    expect(await drum.getByRole('row').count()).toBe(18);
    expect(await drum.innerText()).toContain('from its own readings');
    await page.getByRole('button', { name: /^Like the last day/ }).click();
    await expect.poll(() => page.getByRole('button', { name: /^Like the last day/ }).count()).toBe(0);
  });

  it.each([{ size: sizes.laptop, theme: 'light' }, { size: sizes.phone, theme: 'dark' }] as const)('is accessible and fits: $theme, $size.width', async (look) => {
    const page = await open('/heat-plan', look);
    await page.locator('.drum-heat').first().waitFor();
    expect(await judge(page)).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth <= window.innerWidth)).toBe(true);
  });
});

describe('a question in a browser', { timeout: 60_000 }, () => {
  it('is told on the wall and on Today, and answered with one tap at the drum', async () => {
    let page = await open('/');
    await page.getByRole('link', { name: 'one question' }).waitFor();
    await context?.close();
    page = await open('/today', { size: sizes.phone });
    await page.getByRole('heading', { name: 'Was brine changed in Barrel 1 today about 08:10?' }).waitFor();
    expect(await judge(page)).toEqual([]);
    await context?.close();
    page = await open('/drums/barrel-1', { size: sizes.phone, theme: 'dark' });
    const yes = page.getByRole('button', { name: 'Yes, log it' });
    expect((await yes.boundingBox())?.height).toBeGreaterThanOrEqual(96);
    await yes.click();
    await expect.poll(() => page.getByText('Was brine changed').count()).toBe(0);
    expect((await (await harness.as('owner')).call('questions')).questions).toEqual([]);
  });
});
