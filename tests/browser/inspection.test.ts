import { fileURLToPath } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { dispositionWords, hourMs } from '#contract';
import { toRfc3339 } from '#domain/units/time.ts';
import { openApiHarness, openShed, warmAlert } from '../helpers/api-harness.ts';
import { judge } from '../helpers/axe.ts';
import { launchChromium, sizes } from '../helpers/browser.ts';

/** Before an inspector comes: the built screens before the real API, by phone. */
const dashboard = fileURLToPath(new URL('../../dashboard/dist', import.meta.url));
let browser: Browser;
beforeAll(async () => {
  browser = await launchChromium();
});
afterAll(() => browser.close());

const expectFits = async (page: Page): Promise<void> => {
  expect(await judge(page)).toEqual([]);
  expect(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth)).toBe(true);
};

describe('readiness, deviations and instruments in a browser', { timeout: 60_000 }, () => {
  it('leads from what is open to the deviation and the instrument, which are settled there', async () => {
    const harness = await openApiHarness({ dashboard, zone: 'Europe/Athens' });
    const owner = await harness.as('owner');
    const lot = await openShed(harness);
    harness.collectorWrites({ kind: 'alert-raised', body: warmAlert(harness, lot) });
    harness.clock.advance(2 * hourMs);
    const over = toRfc3339(harness.clock.now());
    harness.collectorWrites({ kind: 'alert-returned', body: { id: 'barrel-1-leach-temperature-danger-20261003t120000z', until: over, at: over, peak: 33.5 } });
    await owner.call('calibrate', { params: { probe: 'meter-1' }, body: { kind: 'ph', points: [{ ph: 7, mv: 0 }, { ph: 4.01, mv: 173.4 }], temperatureC: 25 } });
    await owner.call('addEntry', { params: { lot }, body: { kind: 'measured', at: over, quantity: 'ph', value: 4.2, instrument: 'meter-1' } });
    harness.clock.advance(hourMs);
    await owner.call('calibrate', { params: { probe: 'meter-1' }, body: { kind: 'buffer-check', ph: 4.01, reads: 4.2 } });

    const context = await browser.newContext({ viewport: sizes.phone, colorScheme: 'dark', timezoneId: 'Europe/Paris', locale: 'en-GB', reducedMotion: 'reduce' });
    const [name = '', value = ''] = (owner.cookie ?? '').split('=');
    await context.addCookies([{ name, value, url: harness.url }]);
    const page = await context.newPage();
    page.setDefaultTimeout(10_000);
    const complaints: string[] = [];
    page.on('pageerror', (error) => complaints.push(error.message));
    await page.goto(`${harness.url}/readiness`);

    await page.getByText('Failed checks without a decision on the lots in doubt').waitFor();
    expect(await page.locator('.level').allTextContents()).toEqual(expect.arrayContaining(['Stop', 'Fix', 'Look']));
    expect(await page.locator('main').innerText()).not.toMatch(/\b(safe|approved|compliant|certified)\b/i);
    await expectFits(page);

    await page.getByRole('link', { name: 'Deviations ›' }).click();
    await page.getByRole('heading', { name: 'Deviations', exact: true }).waitFor();
    expect(await page.locator('.deviation').innerText()).toContain('At most 30');
    await expectFits(page);
    await page.getByRole('button', { name: 'Close it' }).click();
    const sheet = page.locator('dialog.sheet');
    await sheet.getByRole('textbox', { name: 'Cause' }).fill('sun on the drum');
    await sheet.getByRole('textbox', { name: 'What was done' }).fill('ice and shade');
    const close = sheet.getByRole('button', { name: 'Close D-1' });
    await sheet.getByRole('radio', { name: dispositionWords.released }).click();
    // Product is released only where somebody judged it.
    expect(await close.isDisabled()).toBe(true);
    await sheet.getByRole('radio', { name: dispositionWords['no-product-affected'] }).click();
    await close.click();
    await page.getByText(`Closed: ${dispositionWords['no-product-affected']}.`).waitFor();
    expect((await owner.call('deviations')).deviations).toMatchObject([{ closed: { cause: 'sun on the drum', action: 'ice and shade', disposition: 'no-product-affected' } }]);

    await page.getByRole('link', { name: 'Instruments', exact: true }).click();
    await page.getByText('In doubt after a failed check').waitFor();
    await expectFits(page);
    await page.getByRole('button', { name: 'Decide' }).click();
    await sheet.getByRole('radio', { name: 'are discarded' }).click();
    await sheet.getByRole('textbox', { name: 'Because' }).fill('the buffer was fresh');
    await sheet.getByRole('button', { name: 'Write down the decision' }).click();
    await page.getByText('Discarded: the buffer was fresh (owner)').waitFor();

    await page.getByRole('button', { name: 'Write down a check' }).first().click();
    await sheet.getByText('The bottle, and as found').first().click();
    await sheet.locator('.bottle[open]').getByLabel('Lot of the bottle').fill('B7');
    await sheet.locator('.bottle[open]').getByLabel('Read before it was adjusted, pH').fill('7.02');
    expect(await sheet.evaluate((element) => element.scrollWidth <= element.clientWidth)).toBe(true);
    for (const [index, mv] of ['0', '173.4'].entries()) await sheet.getByLabel('shows, mV').nth(index).fill(mv);
    await expectFits(page);
    await sheet.getByRole('button', { name: 'Write it down', exact: true }).click();
    await page.locator('dialog.sheet').waitFor({ state: 'detached' });
    const written = harness.service.model.shed().calibrations.get('meter-1')?.at(-1);
    expect(written).toMatchObject({ kind: 'ph', points: [{ ph: 7.01, mv: 0, bottle: { lot: 'B7' } }, { ph: 4.01, mv: 173.4 }], asFound: [{ ph: 7.01, reads: 7.02 }] });

    await page.getByText('The numbers of the checks').click();
    const keep = page.getByRole('button', { name: 'Keep these numbers' });
    const icePoint = page.getByRole('textbox', { name: 'How near a thermometer must read in melting ice' });
    await icePoint.fill('3');
    expect([await keep.isDisabled(), await page.getByText('a number from 0.1 to 2').count()]).toEqual([true, 1]);
    await icePoint.fill('0,5');
    await keep.click();
    await page.getByText('Kept. The checks go by these numbers now.').waitFor();
    expect((await owner.call('checkSettings')).settings.filter(({ source }) => source === 'set by the owner')).toMatchObject([{ name: 'icePointWithinC', value: 0.5 }]);
    await expectFits(page);

    await page.getByRole('link', { name: 'Readiness', exact: true }).click();
    await page.getByRole('button', { name: 'Write down the review' }).click();
    await page.getByText(/owner reviewed all lots up to entry/).waitFor();
    expect((await owner.call('reviews')).reviews).toMatchObject([{ lot: null, name: 'owner' }]);
    expect(complaints).toEqual([]);
    await context.close();
    await harness.close();
  });
});
