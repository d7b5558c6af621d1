import type { Browser, Locator, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import type { ApiHarness } from '../helpers/api-harness.ts';
import { openApiPage, type ApiPage, type ApiPageOptions } from '../helpers/api-page.ts';
import { judge } from '../helpers/axe.ts';
import { launchChromium, sizes } from '../helpers/browser.ts';
import { syntheticSix, writeCure, type SeasonCure } from '../helpers/compare-season.ts';

const slits: readonly SeasonCure[] = syntheticSix.map((cure) => ({ ...cure, gapDays: 4, changeDays: [2, 4, 6, 13, 20, 27, 34, 41].filter((day) => day < cure.days) }));
const season: readonly SeasonCure[] = [
  ...slits,
  { temperatureC: 15, days: 30, score: 3, changeDays: [7, 14] },
  { temperatureC: 15, days: 30, gapDays: 3, measured: 0.4 },
  { temperatureC: 18, days: 100, gapDays: 14, batch: { style: 'kept-brine', cut: 'whole' } },
  { temperatureC: 19, days: 12, score: 6, jarred: false, batch: { cut: 'cracked' } },
];

let browser: Browser;
let visit: ApiPage | null = null;
beforeAll(async () => {
  browser = await launchChromium();
});
afterAll(() => browser.close());
const leave = async (): Promise<void> => {
  await visit?.end();
  expect(visit?.complaints ?? []).toEqual([]);
  visit = null;
};
afterEach(leave);

const open = async (cures: readonly SeasonCure[], path: (lots: readonly string[]) => string = () => '/compare', look: Pick<ApiPageOptions, 'size' | 'theme'> = {}): Promise<{ readonly page: Page; readonly lots: readonly string[] }> => {
  const lots: string[] = [];
  const fill = async (harness: ApiHarness): Promise<void> => {
    if (cures.length === 0) await (await harness.as('owner')).call('addDrum', { body: { id: 'barrel-1', name: 'Barrel 1', volumeL: 60 } });
    for (const [index, cure] of cures.entries()) lots.push(await writeCure(harness, index + 1, cure));
  };
  visit = await openApiPage(browser, { path: () => path(lots), zone: 'Australia/Adelaide', fill, ...look });
  await visit.page.locator('.compare section, .none-yet, .notice').first().waitFor();
  return { page: visit.page, lots };
};

const plain = async (part: Locator): Promise<string> => (await part.innerText()).replaceAll('\u00a0', ' ');
const group = (page: Page, name: string): Locator => page.getByRole('region', { name, exact: true });

describe('the comparison in a browser', { timeout: 60_000 }, () => {
  it('says so when there is nothing to compare', async () => {
    const { page } = await open([]);
    expect(await plain(page.locator('main'))).toContain('There is no batch in this shed yet');
    expect(await page.locator('svg').count()).toBe(0);
  });

  it('says so when nothing is finished, and what is missing', async () => {
    const { page } = await open([{ temperatureC: 15, days: 20, score: 5, jarred: false }]);
    const words = await plain(page.locator('main'));
    expect(words).toContain('No cure has been tasted down to 1 of 10 yet');
    expect(words).toContain('still curing: last tasted 5 of 10, above 1');
    expect(await page.locator('.choose-pair').count()).toBe(0);
  });

  it('tells two cures as two cures, without a line', async () => {
    const { page } = await open(slits.slice(0, 2));
    const slit = group(page, 'slit · changed brine · green');
    expect(await plain(slit)).toContain('Your last 2 batches took 41 to 46 days, at 12.0 to 14.0 °C');
    expect(await slit.locator('.cure-point circle').count()).toBe(2 + 1);
    expect(await slit.locator('.picture .line').count()).toBe(0);
  });

  it('draws six with line and interval, what is beyond dashed and named, and tells what was left out', async () => {
    const { page, lots } = await open(season);
    const slit = group(page, 'slit · changed brine · green');
    const words = await plain(slit);
    expect(await plain(slit.getByRole('link', { name: /^Why did/ }))).toBe(`Why did ${lots[0] ?? ''} take longer than ${lots[5] ?? ''}?`);
    expect(words).toMatch(/one degree warmer makes a cure about \d % shorter \(\d to \d %\)/);
    expect(words).toContain(`${lots[6] ?? ''}\njarred at 3 of 10, above 1: it stopped at another end point`);
    expect(words).toContain(`${lots[7] ?? ''}\nits temperature is known for 40 % of its hours; 80 % are needed`);
    expect(await slit.locator('.picture .band').count()).toBe(1);
    expect(await slit.locator('.picture .line.beyond').count()).toBe(2);
    expect(await slit.locator('.picture text', { hasText: 'no cure here' }).count()).toBe(2);
    expect(await plain(group(page, 'whole · kept brine · green'))).toContain('Your last batch took between 86 and 100 days');
    expect(await plain(group(page, 'Of other kinds, not compared yet'))).toContain(lots[9] ?? '');
  });

  it('has the numbers one tap away, and as a file', async () => {
    const { page, lots } = await open(season);
    const slit = group(page, 'slit · changed brine · green');
    expect(await slit.getByRole('table').first().isVisible()).toBe(false);
    await slit.getByText('The numbers', { exact: true }).click();
    expect((await plain(slit.getByRole('row', { name: lots[0] ?? '' }))).split('\t')).toEqual([lots[0], expect.stringMatching(/^\d+ Aug$/), '12.0', '46', '42', '100 %']);
    expect(await slit.getByRole('table').nth(1).getByRole('row').count()).toBe(1 + 23);
    expect(await plain(slit.getByRole('row', { name: '29 °C' }))).toContain('no cure here');
    const [file] = await Promise.all([page.waitForEvent('download'), slit.getByRole('link', { name: /CSV/ }).click()]);
    expect(file.suggestedFilename()).toBe('cures.csv');
  });

  it('shares out the days between two lots that are chosen, by keys alone', async () => {
    const { page, lots } = await open(season);
    const choose = group(page, 'Two cures side by side');
    await choose.getByLabel('Why was this one slower').focus();
    await page.keyboard.type(lots[2] ?? '');
    await page.keyboard.press('Tab');
    await page.keyboard.type(lots[4] ?? '');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    await page.waitForURL(`**/compare/${lots[2] ?? ''}/${lots[4] ?? ''}`);
    await page.getByRole('heading', { level: 1, name: `${lots[2] ?? ''} took about 9 days longer than ${lots[4] ?? ''}: 31 days against 22.` }).waitFor();
    // Whoever listens is told that the screen has changed.
    expect(await page.evaluate(() => document.activeElement?.tagName)).toBe('H1');
    const bars = group(page, 'Where the days went').getByRole('listitem');
    const words = await Promise.all((await bars.all()).map(plain));
    expect(words).toHaveLength(6);
    expect(words[0]).toMatch(/^Temperature\s+\+[\d.]+\s+[\d.]+ days longer because it was 5\.0 °C colder \(16\.0 °C against 21\.0\)$/);
    expect(words[2]).toMatch(/no difference: both slit/);
    const shown = words.map((text) => Number(/[+−]?[\d.]+/.exec(text)?.[0]?.replace('−', '-') ?? Number.NaN));
    // Each is rounded to a tenth.
    expect(Math.abs(shown.reduce((sum, days) => sum + days, 0) - 9)).toBeLessThan(0.31);
  });

  it('lays temperature, changes and tastings of both over one scale', async () => {
    const { page } = await open(season, (lots) => `/compare/${lots[0] ?? ''}/${lots[6] ?? ''}`);
    const overlay = group(page, 'Over one scale of days');
    expect(await overlay.locator('.picture .change:not(.second)').count()).toBe(8);
    expect(await overlay.locator('.picture .change.second').count()).toBe(2);
    expect((await overlay.locator('.picture .tasting text').allTextContents()).toSorted()).toEqual(['1', '3', '4']);
    // The second stopped at three: no days to share out, and no line where it was done.
    expect(await overlay.locator('.picture .end:not(.second)').count()).toBe(2);
    expect(await overlay.locator('.picture .end.second').count()).toBe(0);
    expect(await plain(group(page, 'Where the days went'))).toContain('The days cannot be shared out:');
    await overlay.getByText('The numbers', { exact: true }).click();
    expect((await plain(overlay.getByRole('row').nth(1 + 6))).split('\t')).toEqual(['6', '12.0', 'brine changed', '15.0', '']);
  });

  it('keeps to another end point when it is chosen', async () => {
    const { page, lots } = await open(season);
    await page.getByRole('button', { name: 'pleasant, 4 of 10' }).click();
    await page.waitForURL('**/compare?bitterness=4');
    await page.getByText('took 17 to 42 days').waitFor();
    expect(await plain(group(page, 'slit · changed brine · green'))).not.toContain(`${lots[6] ?? ''}\njarred`);
    await page.getByRole('link', { name: /^Why did/ }).first().click();
    await page.waitForURL(/\/compare\/[^/]+\/[^/]+\?bitterness=4$/);
  });

  it('follows the temperature scale of the reader', async () => {
    const { page } = await open(slits);
    await page.getByRole('button', { name: 'This screen' }).click();
    await page.getByRole('radio', { name: '°F' }).check();
    await page.keyboard.press('Escape');
    expect(await plain(group(page, 'slit · changed brine · green'))).toContain('from 53.6 to 75.2 °F');
  });

  it('says when there is no such lot', async () => {
    const { page } = await open(slits.slice(0, 1), (lots) => `/compare/${lots[0] ?? ''}/HO26-ZZ`);
    expect(await plain(page.locator('.notice'))).toContain('There is no lot HO26-ZZ');
    await page.getByRole('link', { name: 'To all cures' }).click();
    await page.locator('.compare section').first().waitFor();
  });

  it('fits a phone: nothing but tables moves sideways, and what is touched is large enough', async () => {
    for (const path of [() => '/compare', (lots: readonly string[]) => `/compare/${lots[0] ?? ''}/${lots[5] ?? ''}`]) {
      const { page } = await open(season, path, { size: sizes.phone });
      for (const summary of await page.locator('summary').all()) await summary.click();
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(sizes.phone.width);
      const small = await page.locator('.compare :is(a, button, select, summary)').evaluateAll((all) => all.map((one) => ({ name: one.textContent, height: one.getBoundingClientRect().height })).filter(({ height }) => height > 0 && height < 44));
      expect(small).toEqual([]);
      await leave();
    }
  });
});

describe.each(['light', 'dark'] as const)('by %s', (theme) => {
  it.each([['all cures', (): string => '/compare'], ['a pair', (lots: readonly string[]): string => `/compare/${lots[0] ?? ''}/${lots[5] ?? ''}`]] as const)('%s has no fault that a machine can find', { timeout: 60_000 }, async (_name, path) => {
    const { page } = await open(season, path, { theme });
    for (const summary of await page.locator('summary').all()) await summary.click();
    expect(await judge(page)).toEqual([]);
  });
});
