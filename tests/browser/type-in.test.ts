import type { Browser } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium, sizes, visit, type Visit } from '../helpers/browser.ts';
import { until } from '../helpers/until.ts';

let browser: Browser;
let current: Visit | null = null;
beforeAll(async () => {
  browser = await launchChromium();
});
afterEach(async () => {
  const complaints = current?.complaints ?? [];
  await current?.end();
  current = null;
  expect(complaints).toEqual([]);
});
afterAll(() => browser.close());

const open = async (path: string, size: (typeof sizes)[keyof typeof sizes] = sizes.phone): Promise<Visit> => {
  current = await visit(browser, { path, size });
  return current;
};

describe('a sheet typed in', { timeout: 60_000 }, () => {
  it('is reached from Today, keeps what was typed when the page is left, and is written with the time on the paper', async () => {
    const { page, server } = await open('/today');
    await page.getByRole('link', { name: /Type in a sheet/ }).click();
    expect(await page.getByRole('heading', { level: 2 }).first().innerText()).toMatch(/^1 Barrel 2/);
    await page.getByLabel('1.1 temp').fill('14,2');
    await page.getByLabel('1.7 time').fill('930');
    await page.getByLabel('2.4 taste').fill('6');
    await page.reload();
    await page.getByLabel('2.4 taste').waitFor();
    expect(await page.getByLabel('1.1 temp').inputValue()).toBe('14,2');
    await page.getByRole('button', { name: 'Write 2 entries' }).click();
    await page.getByText('2 written.').waitFor();
    expect(server.shed.written).toEqual([
      expect.objectContaining({ kind: 'measured', quantity: 'temperature', value: 14.2, at: '2027-06-11T00:00:00.000Z', writtenAt: '2027-06-11T00:00:00.000Z' }),
      expect.objectContaining({ kind: 'tasted', bitterness: 6, writtenAt: '2027-06-11T00:00:00.000Z' }),
    ]);
    expect(await page.getByLabel('1.1 temp').inputValue()).toBe('');
    await page.goto(`${server.url}/drums/barrel-2`);
    expect((await page.locator('.story li', { hasText: '14.2' }).first().innerText()).replaceAll('\u00a0', ' ')).toMatch(/written at 09:30, 11 Jun, entered at 14:24, 11 Jun/);
  });

  it('writes nothing while a box is wrong, and says which', async () => {
    const { page, server } = await open('/type-in');
    await page.getByLabel('1.2 pH').fill('44');
    await page.getByLabel('1.4 taste').fill('6');
    await page.getByLabel('1.7 time').fill('9:00');
    await page.getByRole('button', { name: /^Write/ }).click();
    expect(await page.getByRole('alert').innerText()).toMatch(/pH: must lie between 0 and 14\. Nothing was written yet\./);
    expect(server.shed.written).toEqual([]);
    await page.getByLabel('1.2 pH').fill('4.4');
    await page.getByRole('button', { name: 'Write 2 entries' }).click();
    await until('both acts', () => server.shed.written.length === 2);
  });

  it('is kept at the phone without a connection, and its boxes are free again', async () => {
    const { page, server } = await open('/type-in');
    await page.getByLabel('1.2 pH').fill('4.4');
    await page.getByLabel('1.7 time').fill('9:00');
    server.cut();
    await page.getByRole('button', { name: /^Write/ }).click();
    await page.getByText(/kept at this phone/).first().waitFor({ timeout: 20_000 });
    expect(await page.getByLabel('1.2 pH').inputValue()).toBe('');
  });
});

describe('what if', { timeout: 60_000 }, () => {
  it('draws a range under the ribbon at a touch, in words, and takes it away again; the numbers stand in a table', async () => {
    const { page } = await open('/drums/barrel-2', sizes.laptop);
    const warmer = page.getByRole('button', { name: '2 °C warmer' });
    await warmer.click();
    const lane = page.locator('.ghosts li');
    expect((await lane.innerText()).replaceAll('\u00a0', ' ')).toMatch(/^2 °C warmer: .*, about 3 days sooner\. Warm fruit softens/);
    const [haze, ghost] = await Promise.all([page.locator('.outlook .median').boundingBox(), page.locator('.ghost-likely').boundingBox()]);
    // Sooner lies left of what is planned, on the same calendar.
    expect(ghost?.x ?? 0).toBeLessThan(haze?.x ?? 0);
    await warmer.click();
    await lane.waitFor({ state: 'detached' });
    await page.getByText('Show the numbers').click();
    expect(await page.getByRole('row', { name: /Next change left out/ }).innerText()).toMatch(/2\.0/);
  });
});
