import type { Browser, Locator, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import type { ApiHarness } from '../helpers/api-harness.ts';
import { openApiPage, type ApiPage, type ApiPageOptions } from '../helpers/api-page.ts';
import { judge } from '../helpers/axe.ts';
import { launchChromium, sizes } from '../helpers/browser.ts';
import { writeCure } from '../helpers/compare-season.ts';

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

const full = async (shed: ApiHarness): Promise<void> => {
  const owner = await shed.as('owner');
  for (const [index, kg] of [18, 7, 20].entries()) await owner.call('writeTreeLoad', { body: { tree: 'Picual 1', year: 2023 + index, kg } });
  await owner.call('writeTreeLoad', { body: { tree: 'Leccino 7', year: 2025, load: 2 } });
  await writeCure(shed, 1, { temperatureC: 16, days: 20, measured: 0, batch: { cut: 'pitted', fruitKg: 13, trees: 'Picual 1' } });
  await writeCure(shed, 2, { temperatureC: 16, days: 12, measured: 0, jarred: false, score: 5, batch: { fruitKg: 30, trees: 'Leccino 7, 8' } });
};
const onePick = async (shed: ApiHarness): Promise<void> => void (await writeCure(shed, 1, { temperatureC: 16, days: 5, measured: 0, jarred: false, score: 5 }));
const nothing = async (shed: ApiHarness): Promise<void> => void (await (await shed.as('owner')).call('addDrum', { body: { id: 'barrel-1', name: 'Barrel 1', volumeL: 60 } }));

const open = async (fill: ApiPageOptions['fill'], look: Pick<ApiPageOptions, 'size' | 'theme'> = {}): Promise<Page> => {
  visit = await openApiPage(browser, { path: () => '/season', zone: 'Europe/Athens', fill, ...look });
  await visit.page.locator('.shopping').waitFor();
  return visit.page;
};

const plain = async (part: Locator): Promise<string> => (await part.innerText()).replaceAll('\u00a0', ' ');

describe('the season in a browser', { timeout: 60_000 }, () => {
  it('says so before the first pick, and plans all the same', async () => {
    const page = await open(nothing);
    expect(await plain(page.locator('main'))).toContain('Nothing has been picked yet');
    expect(await page.locator('.flow').count()).toBe(0);
    expect(await plain(page.locator('.shopping'))).toMatch(/jars of 720 mL/);
  });

  it('draws one pick in its drum as one pick, and nothing as lost but what was tasted', async () => {
    const page = await open(onePick);
    expect((await page.locator('.flow title').textContent())?.replaceAll('\u00a0', ' ')).toBe('Where the fruit went: 30 kg 1 pick, 30 kg into drums, 0 jars filled so far, 0 jars gone out so far; 30 kg still in drums; 20 g tasted');
  });

  it('draws what the ledger says, tells it in a table one touch away, and lets the plan be turned', async () => {
    const page = await open(full);
    // 13 kg pitted: 2.21 kg of stones, 20 g tasted, 40 jars of 500 mL hold 10 kg, 770 g (5.9 %) are missing: more than a twentieth.
    expect((await page.locator('.flow title').textContent())?.replaceAll('\u00a0', ' ')).toContain('2.21 kg stones; 40 g tasted; 770 g unaccounted for');
    await page.locator('section[aria-labelledby=ledger] summary').click();
    expect(await plain(page.locator('section[aria-labelledby=ledger] table'))).toContain('770 g ▲ look');
    expect(await plain(page.locator('section[aria-labelledby=trees]'))).toMatch(/Picual 1[^]*18 kg[^]*7 kg[^]*20 kg[^]*13 kg/);
    const jars = page.locator('.shopping li').first().locator('b');
    const before = Number(await jars.innerText());
    await page.getByRole('button', { name: 'more trees in their on year' }).press('Enter');
    await page.getByLabel('Size of the jars').selectOption('250');
    await expect.poll(async () => plain(page.locator('.shopping li').first())).toMatch(/jars of 250 mL/);
    expect(Number(await jars.innerText())).toBeGreaterThan(2 * before * (250 / 500) * 0.9);
    await page.locator('.plan-form summary').click();
    await page.getByLabel('Picks', { exact: true }).fill('0');
    await page.getByRole('alert').waitFor();
    expect(await plain(page.getByRole('alert'))).toContain('picks');
  });

  it('takes the load of a tree', async () => {
    const page = await open(onePick);
    await page.getByText('Write down a tree').click();
    await page.getByLabel('Tree', { exact: true }).fill('Frantoio 14');
    await page.getByLabel('How much').selectOption('heavy');
    await page.getByRole('button', { name: 'Write it down' }).click();
    await page.getByText('Written: Frantoio 14, 2026.').waitFor();
    expect(await plain(page.locator('.trees'))).toMatch(/Frantoio 14[^]*heavy/);
  });
});

describe.each([['laptop', 'light'], ['laptop', 'dark'], ['phone', 'light'], ['phone', 'dark']] as const)('on a %s, %s', (size, theme) => {
  it('has no fault that a machine can find, moves nothing but tables sideways, and what is touched is large enough', { timeout: 60_000 }, async () => {
    const page = await open(full, { size: sizes[size], theme });
    for (const summary of await page.locator('summary').all()) await summary.click();
    expect(await judge(page)).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(sizes[size].width);
    const small = await page.locator('.season :is(a, button, select, summary, input)').evaluateAll((all) => all.map((one) => ({ name: one.textContent, height: one.getBoundingClientRect().height })).filter(({ height }) => height > 0 && height < 44));
    expect(small.filter(({ name }) => name !== '')).toEqual([]);
  });
});
