import { fileURLToPath } from 'node:url';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { RouteAnswer } from '#contract';
import { openApiHarness, passwordOf } from '../helpers/api-harness.ts';
import { launchChromium, sizes } from '../helpers/browser.ts';
import { takePhone } from '../helpers/phone.ts';
import { until } from '../helpers/until.ts';

/** A whole season by touches alone, on a phone, before the real API: from the first drum to jars that are sold, and a second lot beside it. */
const dashboard = fileURLToPath(new URL('../../dashboard/dist', import.meta.url));

let browser: Browser;
beforeAll(async () => {
  browser = await launchChromium();
});
afterAll(() => browser.close());

describe('a season by phone', { timeout: 90_000 }, () => {
  it('goes from the first drum to sold jars by touches alone, and its journal tells it all', async () => {
    const harness = await openApiHarness({ dashboard, zone: 'Europe/Athens' });
    await harness.as('owner');
    const context = await browser.newContext({ viewport: sizes.phone, timezoneId: 'Europe/Paris', locale: 'en-GB', reducedMotion: 'reduce', hasTouch: true, isMobile: true });
    const page = await context.newPage();
    page.setDefaultTimeout(10_000);
    const complaints: string[] = [];
    page.on('pageerror', (error) => complaints.push(error.message));
    const { sheet, key, task, at, screen, open, press, done, type, amount, lot, isFit } = takePhone(page, harness);

    /** The phone's own session: it has been used all along. */
    const ask = async <Answer,>(path: string): Promise<Answer> => (await (await page.request.get(`${harness.url}/api/${path}`)).json()) as Answer;
    const journal = async (): Promise<RouteAnswer<'journal'>['entries']> => (await ask<RouteAnswer<'journal'>>('journal?limit=200')).entries;

    // The first drum, its probe, and two drums that have none.
    await page.goto(harness.url);
    await page.getByLabel('Password').fill(passwordOf('owner'));
    await key('Sign in').tap();
    await key('Name it').tap();
    await page.getByText('Listening …').waitFor();
    await harness.read('p1', [18.4]);
    await key('Place here').tap();
    await page.getByText('Barrel 1 is being watched').waitFor();
    for (const name of ['Barrel 2', 'Barrel 3']) {
      await key('Name another drum').tap();
      await page.getByLabel(/^Name, as/).fill(name);
      await key('Name it').tap();
      await page.getByText(`No probe for ${name} yet?`).waitFor();
    }
    await isFit();
    await page.getByRole('link', { name: 'To the wall' }).tap();
    await page.locator('.row').nth(2).waitFor();
    await isFit();

    // A pick: begun, weighed, counted, sorted, and started in the drum.
    await screen('Picks');
    await open(/^Pick started/);
    await amount('fruit, with stones', 35);
    await sheet.getByRole('textbox', { name: 'Trees' }).fill('7, 8');
    await done();
    await open(/^Count ripeness/);
    for (const look of [1, 1, 2, 2, 3]) await sheet.locator('.count-pad li button').nth(look).tap();
    await isFit();
    await done('Done with 5');
    await open(/^Sorted/);
    await sheet.getByRole('group').getByRole('textbox').fill('2');
    await key(/^Add 2 kg/, sheet).tap();
    await done(/^Sorted: 2 kg/);
    await open(/^Start a batch/);
    await key('Open the batch', sheet).tap();
    await page.locator('.trace').waitFor();

    // Changes from Today: two touches each; a doubled touch opens the task and writes nothing; a late one says what it costs.
    await at(2);
    await screen('Today');
    const change = task(/Change the brine/);
    await change.tap({ trial: true });
    const box = await change.boundingBox();
    const [x, y] = [(box?.x ?? 0) + 180, (box?.y ?? 0) + (box?.height ?? 0) / 2];
    await page.touchscreen.tap(x, y);
    await page.touchscreen.tap(x, y);
    await sheet.waitFor();
    await done();
    await page.locator('.undo').waitFor();
    await at(5, 8);
    expect(await task(/Change the brine/).innerText()).toMatch(/overdue since yesterday[^]*later/);
    await isFit();
    await task(/Change the brine/).tap();
    await isFit();
    await done();

    // A film is written and skimmed; a grave sign holds the lot and bars tasting; a person lets it go with a named exception.
    await screen('Wall');
    await page.locator('.row').first().tap();
    await open(/^Seen or smelled/);
    await done('flat film');
    expect(await page.locator('.sign-card').innerText()).toMatch(/Do\s+skim/);
    await key('Read').tap();
    await open(/^Skimmed/);
    await done('film in patches');
    await open(/^Seen or smelled/);
    await done('rotten smell');
    await page.locator('.hold-board').waitFor();
    expect(await key(/^Tasted/).isDisabled()).toBe(true);
    await key('Read').tap();
    await isFit();
    await open(/^Release/);
    await sheet.getByRole('textbox', { name: /Released all the same/ }).fill('the smell was a mouse behind the drum');
    await done();
    await page.locator('.hold-board').waitFor({ state: 'detached' });

    // Tasted until it is sweet.
    for (const [day, bitterness] of [[14, 8], [21, 6], [28, 4], [35, 2], [42, 1]] as const) {
      await at(day);
      await open(/^Tasted/);
      await done(new RegExp(`^${String(bitterness)}$`));
      if (bitterness <= 2) continue;
      await open(/^Brine changed/);
      await done();
    }

    // Jars are refused while the pH is not known, and while it is too high; with acid they are filled and on hold.
    await screen('Lots');
    await lot();
    await isFit();
    await open(/^Fill jars/);
    await press('Done');
    const refusal = sheet.getByRole('alert');
    await refusal.waitFor();
    expect(await refusal.innerText()).toMatch(/unknown/i);
    expect((await refusal.boundingBox())?.y).toBeGreaterThanOrEqual(0);
    await key('Close', sheet).tap();
    await open(/^Measured/);
    await type('4.42');
    await isFit();
    await done();
    await open(/^Fill jars/);
    await press('Done');
    await sheet.getByText(/pH 4\.42 ± 0\.12 is not inside/).waitFor();
    await sheet.getByRole('radio', { name: 'with acid' }).tap();
    await sheet.getByRole('textbox', { name: /^Which acid/ }).fill('25 g of wine vinegar of 6 % in each jar');
    await isFit();
    await done();
    await page.getByText('79 of 79 jars are here').waitFor();

    // Two jars, twice, two days apart, by a meter that was in its buffers on the day: inside, and free to leave.
    for (const [day, one, other] of [[44, '3.90', '3.95'], [46, '3.89', '3.93']] as const) {
      await at(day);
      await open(/^Meter checked/);
      for (const [index, mv] of ['-2', '172', '172.5'].entries()) await sheet.getByLabel('shows, mV').nth(index).fill(mv);
      if (day === 44) await isFit();
      await done('Write it down');
      for (const [jar, ph] of [['1', one], ['2', other]] as const) {
        await open(/^pH of a jar/);
        await sheet.getByRole('radio', { name: jar, exact: true }).tap();
        await type(ph);
        await done();
      }
    }
    await page.locator('.jar-gate[data-verdict=inside]').waitFor();
    await page.locator('.jar-gate summary').tap();
    expect(await page.locator('.jar-gate table').first().innerText()).toContain('3.89');
    await isFit();
    await open(/^Release, with/);
    await done();
    await open(/^Jars left/);
    await sheet.getByRole('group', { name: /of 79 here/ }).getByRole('textbox').fill('40');
    await sheet.getByRole('textbox', { name: 'To whom' }).fill('Saturday market');
    await isFit();
    await done();
    await open(/^Jars left/);
    await key('All 39', sheet).tap();
    await key('Saturday market', sheet).tap();
    await done();
    await screen('Lots');
    await page.getByRole('heading', { name: 'Sold out' }).waitFor();

    // A second lot: started from the drum's own page, moved, split.
    await screen('Picks');
    await open(/^Pick started/);
    await amount('fruit, with stones', 20);
    await done();
    await screen('Wall');
    await page.locator('.row').nth(1).tap();
    await page.getByRole('checkbox', { name: /20 kg left/ }).tap();
    await key('Open the batch').tap();
    await page.locator('.act-grid').waitFor();
    await at(46, 2);
    await key(/^More:/).tap();
    await open(/^Moved/);
    await sheet.getByRole('radio', { name: /Barrel 3/ }).tap();
    await done();
    await at(46, 3);
    await screen('Wall');
    await page.locator('.row').nth(2).tap();
    await key(/^More:/).tap();
    await open(/^Split/);
    await sheet.getByRole('radio', { name: /Barrel 2/ }).tap();
    await amount('fruit that goes', 8);
    await done();

    // Hands: pressed under in two touches, ice counted, and seen in one.
    await open(/^Handled/);
    await isFit();
    await done('pressed under');
    await open(/^Handled/);
    await amount('ice bottles, if cooled', 3);
    await done('cooled: 3 ice bottles');
    await key('Seen, all well').tap();
    await page.locator('.undo', { hasText: 'all well' }).waitFor();

    // A mistake is corrected, another is taken back within ten seconds, and what was done without signal is sent once.
    await open(/^Topped up/);
    await done(/^Same brine/);
    await key('Correct').first().tap();
    await key('more filled up', sheet).tap();
    // When it happened can be said to the minute, in a field that is seen.
    expect(await sheet.getByLabel('Time of the act').evaluate((field) => getComputedStyle(field).opacity)).toBe('1');
    await done(/^Write it anew: same brine/);
    await open(/^Skimmed/);
    await done('a trace of film');
    await key(/^Undo/).tap();
    await until('taken back', async () => (await journal()).filter(({ kind }) => kind === 'corrected').length === 2);
    await context.setOffline(true);
    await open(/^Skimmed/);
    await done('film in patches');
    await page.locator('.kept', { hasText: '1 kept here' }).waitFor();
    // The shed hears it, and its answer is lost.
    let lost = 0;
    await context.route('**/api/batches/*/entries', async (route) => {
      if (lost > 0) return route.continue();
      lost += 1;
      await route.fetch();
      return route.abort();
    });
    await context.setOffline(false);
    await page.locator('.kept').waitFor({ state: 'detached', timeout: 40_000 });
    expect(lost).toBe(1);

    // The journal: every act once, in the order it was touched.
    const entries = await journal();
    expect(entries.map(({ kind }) => kind).filter((kind) => kind !== 'task-done')).toEqual([
      'site-opened', 'drum-added', 'placed', 'drum-added', 'drum-added',
      'picked', 'pick-amended', 'pick-amended', 'sorted', 'batch-opened',
      'brine-changed', 'brine-changed', 'observed', 'skimmed', 'observed', 'release',
      'tasted', 'brine-changed', 'tasted', 'brine-changed', 'tasted', 'brine-changed', 'tasted', 'tasted',
      'measured', 'jarred', 'hold', 'calibrated', 'jar-ph', 'jar-ph', 'calibrated', 'jar-ph', 'jar-ph', 'release', 'distributed', 'distributed',
      'picked', 'pick-amended', 'batch-opened', 'moved', 'split', 'handled', 'handled', 'observed', 'brine-topped-up', 'corrected', 'skimmed', 'corrected', 'skimmed',
    ]);
    expect(entries.filter(({ kind, who }) => kind !== 'site-opened' && who !== 'user:owner')).toEqual([]);
    // Every kilogram and every jar is somewhere: 35 = 33 + 2 sorted out, 20 = 12 + 8, 79 = 40 + 39.
    const { picks } = await ask<RouteAnswer<'picks'>>('picks');
    expect(picks.map(({ pickedKg, culledKg, inBatchesKg, unaccountedKg }) => [pickedKg, culledKg, inBatchesKg, unaccountedKg])).toEqual([[20, 0, 20, 0], [35, 2, 33, 0]]);
    const { batches } = await ask<RouteAnswer<'batches'>>('batches');
    expect(batches.map(({ drum, fruitKg, jarsLeft }) => [drum, fruitKg, jarsLeft])).toEqual([['barrel-3', 12, null], ['barrel-2', 8, null], ['barrel-1', 33, 0]]);
    const sold = entries.flatMap((entry) => (entry.kind === 'distributed' ? [(entry.body as { readonly jars: number }).jars] : []));
    expect(sold).toEqual([40, 39]);
    expect(complaints).toEqual([]);
    await context.close();
    await harness.close();
  });
});
