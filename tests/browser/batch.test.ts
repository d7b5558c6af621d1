import { fileURLToPath } from 'node:url';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect, it } from 'vitest';
import { hourMs, type RouteBody } from '#contract';
import { toRfc3339 } from '#domain/units/time.ts';
import { harnessStart, openApiHarness, openShed, type ApiHarness } from '../helpers/api-harness.ts';
import { judge } from '../helpers/axe.ts';
import { launchChromium, sizes } from '../helpers/browser.ts';

/** The built screens before the real API: one lot from its drum into jars, held, measured, released and sold, on a phone. */
const dashboard = fileURLToPath(new URL('../../dashboard/dist', import.meta.url));
const at = (hours: number): string => toRfc3339(harnessStart + hours * hourMs);

let browser: Browser;
let harness: ApiHarness;
let context: BrowserContext;
let page: Page;
let lot: string;
const complaints: string[] = [];
beforeAll(async () => {
  browser = await launchChromium();
});
afterAll(() => browser.close());
afterEach(async () => {
  await context.close();
  await harness.close();
  expect(complaints.splice(0)).toEqual([]);
});

const add = async (body: RouteBody<'addEntry'>): Promise<void> => void (await (await harness.as('owner')).call('addEntry', { params: { lot }, body }));
/** Two buffers and a second bottle of the acid one, on the day of the readings. */
const checkMeter = async (hours: number): Promise<void> => {
  harness.clock.set(harnessStart + hours * hourMs);
  await (await harness.as('owner')).call('calibrate', { params: { probe: 'cup-meter' }, body: { kind: 'ph', points: [{ ph: 7, mv: 0 }, { ph: 4, mv: 174.5 }, { ph: 4.01, mv: 173.9 }], temperatureC: 20 } });
};
const open = async (path: (lot: string) => string, { size = sizes.phone, dark = false, before }: { readonly size?: { readonly width: number; readonly height: number }; readonly dark?: boolean; readonly before?: () => Promise<void> } = {}): Promise<void> => {
  harness = await openApiHarness({ dashboard });
  lot = await openShed(harness);
  await before?.();
  context = await browser.newContext({ viewport: size, colorScheme: dark ? 'dark' : 'light', timezoneId: 'Europe/Paris', locale: 'en-GB', reducedMotion: 'reduce' });
  const [name = '', value = ''] = ((await harness.as('owner')).cookie ?? '').split('=');
  await context.addCookies([{ name, value, url: harness.url }]);
  page = await context.newPage();
  page.setDefaultTimeout(10_000);
  page.on('pageerror', (error) => complaints.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error' && !message.text().startsWith('Failed to load resource')) complaints.push(message.text());
  });
  await page.goto(harness.url + path(lot));
};
const button = (name: string | RegExp) => page.getByRole('button', { name });
const save = (): Promise<void> => page.getByRole('dialog').getByRole('button', { name: 'Done' }).click();

it('goes from its drum into jars: refused with the reason while nothing is known, on hold with acid, and the form keeps what was typed', { timeout: 60_000 }, async () => {
  await open((each) => `/batch/${each}`);
  await page.getByRole('heading', { level: 1, name: lot }).waitFor();
  await button(/^Fill jars/).click();
  const sheet = page.getByRole('dialog');
  // 30 kg slit, 5 % culls, 0.396 kg in a jar of 720 mL: 71 jars (the worked example of the yield rule: 45.6 kg are 115).
  expect(await sheet.locator('.stepper input').first().inputValue()).toBe('71');
  await sheet.getByLabel('Everything in the jar').fill('olives, water, salt, garlic');
  const salt = sheet.getByLabel('Salt weighed for that brine, g');
  await salt.fill('some');
  expect(await sheet.getByRole('button', { name: 'Done' }).isDisabled()).toBe(true);
  await salt.fill('1920');
  await save();
  await sheet.getByRole('alert').waitFor();
  expect(await sheet.getByRole('alert').textContent()).toContain('pH unknown, which counts as above the limit 4.3 (CXS 66-1981)');
  expect(await sheet.getByLabel('Everything in the jar').inputValue()).toContain('garlic');
  expect(await sheet.locator('.caution').allTextContents()).toContainEqual(expect.stringContaining('botulism'));
  await sheet.getByRole('radio', { name: 'with acid' }).check();
  await save();
  await page.locator('.hold-board').waitFor();
  expect(await page.locator('.hold-board').textContent()).toContain('packed with its pH unknown');
  const { entries } = await (await harness.as('owner')).call('batch', { params: { lot } });
  expect(entries.find(({ kind }) => kind === 'jarred')?.body).toMatchObject({ saltG: 1920 });
  expect(await page.locator('.verdict b').textContent()).toBe('unknown');
  expect(await button(/^Tasted/).count()).toBe(0);
  expect(await judge(page)).toEqual([]);
});

it.each([['day', false, sizes.phone], ['night', true, sizes.laptop]] as const)('measured, released and sold, by %s: the jars stand inside with their margin, and every number is one touch away', { timeout: 60_000 }, async (_name, dark, size) => {
  await open((each) => `/batch/${each}`, {
    dark, size, before: async () => {
      await add({ kind: 'jarred', at: at(0), jars: 60, jarMl: 720, brine: '80 g/L', acid: 'vinegar', ingredients: ['olives'] });
      await checkMeter(26);
      for (const [jar, value] of [['1', 4.01], ['2', 4.05]] as const) await add({ kind: 'jar-ph', at: at(26), jar, value, instrument: 'cup-meter' });
      await checkMeter(75);
    },
  });
  await page.locator('.gate-next').waitFor();
  expect(await page.locator('.gate-next').textContent()).toContain('Measure jar 1 again');
  // Two touches and the key pad.
  await button(/^pH of a jar/).click();
  for (const key of ['4', 'point', '0', '2']) await page.getByRole('dialog').getByRole('button', { name: key, exact: true }).click();
  await save();
  await page.locator('.jar-gate[data-verdict=inside]').waitFor();
  expect(await page.getByRole('img', { name: /The pH of the packed jars is inside: 4\.0\d ± 0\.1\d, limit 4\.3/ }).count()).toBe(1);
  await page.getByText('The numbers').click();
  expect(await page.locator('.jar-gate tbody tr').allTextContents()).toEqual(expect.arrayContaining([expect.stringMatching(/^14\.02.*came to rest$/), expect.stringMatching(/^24\.05.*read once$/)]) as string[]);
  await button(/^Release$|^Release who/).or(button(/^Release, with/)).first().click();
  await save();
  await page.locator('.hold-board').waitFor({ state: 'detached' });
  await button(/^Jars left/).click();
  await page.getByRole('dialog').getByLabel('To whom').fill('Saturday market');
  await page.getByRole('dialog').locator('.stepper input').fill('12');
  await save();
  await page.getByRole('heading', { name: '48 of 60 jars are here' }).waitFor();
  expect(await page.getByText(/\bsafe\b/i).count()).toBe(0);
  expect(await judge(page)).toEqual([]);
  expect(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth)).toBe(true);
});

it('called back by its owner: where its jars went stands large, and no more of them leave', { timeout: 60_000 }, async () => {
  await open((each) => `/batch/${each}`, {
    before: async () => {
      await add({ kind: 'measured', at: at(-1), quantity: 'ph', value: 4 });
      await add({ kind: 'jarred', at: at(-1), jars: 60, jarMl: 720, brine: '80 g/L', ingredients: ['olives'] });
      await add({ kind: 'release', at: at(-0.5), by: 'Eleni', exception: 'laboratory report 17' });
      await add({ kind: 'distributed', at: at(0), to: 'Saturday market', jars: 12 });
      await add({ kind: 'distributed', at: at(0), to: 'Restaurant by the harbour', jars: 6 });
    },
  });
  await button('Call the lot back').click();
  const sheet = page.getByRole('dialog');
  expect(await judge(page)).toEqual([]);
  await sheet.getByLabel('Why it is called back').fill('lids let go');
  await sheet.getByRole('button', { name: `Call ${lot} back` }).click();
  const board = page.locator('.recall-board');
  await board.waitFor();
  expect(await board.textContent()).toContain('lids let go');
  expect(await board.textContent()).toContain('42 of 60 jars should be here');
  expect(await board.locator('tbody tr').allTextContents()).toEqual([expect.stringMatching(/^12Saturday market/), expect.stringMatching(/^6Restaurant by the harbour/)]);
  expect(await button('Call the lot back').count()).toBe(0);
  await (await harness.as('owner')).refused('addEntry', 'recalled', { params: { lot }, body: { kind: 'distributed', at: at(0), to: 'one more', jars: 1 } });
  expect(await judge(page)).toEqual([]);
  expect(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth)).toBe(true);
});

it('a grave sign holds a lot in its drum, all lots show it first, and its way leads back to it', { timeout: 60_000 }, async () => {
  await open(() => '/lots', { before: () => add({ kind: 'observed', at: at(-1), sign: 'mould' }) });
  await page.getByRole('heading', { name: 'On hold' }).waitFor();
  await page.getByLabel('Stall on').fill('2026-12-20');
  await page.getByText('Sun 29 Nov').waitFor();
  expect(await judge(page)).toEqual([]);
  await page.locator('.lot-row').click();
  await page.locator('.hold-board').waitFor();
  expect(await page.locator('.hold-board').textContent()).toMatch(/mould/i);
  const tasted = button(/^Tasted/);
  expect([await tasted.isDisabled(), await tasted.textContent()]).toEqual([true, expect.stringContaining('not while on hold')]);
  await page.goto(`${harness.url}/drums/barrel-1`);
  await page.locator('.hold-board').waitFor();
  expect(await judge(page)).toEqual([]);
});

it('a bench trial is worked out on the phone and is there again the next day', { timeout: 60_000 }, async () => {
  await open(() => '/bench-trial');
  await page.getByLabel('Fruit and brine in the batch').fill('56.6');
  for (const [jar, ph] of [[1, '5.4'], [2, '4.6'], [3, '4.20'], [4, '4.04'], [5, '3.9']] as const) await page.getByLabel(`pH of jar ${String(jar)} on day 7`).fill(ph);
  await page.locator('.bench-dose').waitFor();
  // A straight line between 14 mL → 4.20 and 21 mL → 4.04 crosses 4.1 at 18.375 mL.
  expect(await page.locator('.bench-dose').textContent()).toContain('18.4 mL a jar');
  expect(await judge(page)).toEqual([]);
  await page.reload();
  await page.locator('.bench-dose').waitFor();
  await page.getByLabel('pH to reach').fill('3.8');
  await page.getByText(/not reached by the largest dose/).waitFor();
});
