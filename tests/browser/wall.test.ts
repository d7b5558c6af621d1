import type { Browser } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium, sizes, visit, type Visit, type VisitOptions } from '../helpers/browser.ts';
import { growWarm } from '../helpers/fixture-answers.ts';

describe('the wall in a browser', { timeout: 60_000 }, () => {
  let browser: Browser;
  let current: Visit | null = null;
  const open = async (options: VisitOptions = {}): Promise<Visit> => {
    current = await visit(browser, options);
    await current.page.locator('.row').first().waitFor();
    return current;
  };
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

  it('shows one row a drum, filling the screen without scrolling', async () => {
    for (const state of ['full', 'eight'] as const) {
      const { page, end } = await open({ state });
      const rows = await page.locator('.row').evaluateAll((all) => all.map((row) => row.getBoundingClientRect().toJSON() as DOMRect));
      expect(rows).toHaveLength(state === 'full' ? 6 : 8);
      expect(rows.at(-1)?.bottom).toBeGreaterThan(960);
      expect(rows.at(-1)?.bottom).toBeLessThan(1_080);
      expect(await page.evaluate(() => document.documentElement.scrollHeight)).toBe(1_080);
      await end();
    }
  });

  it('cuts no words, in any row, on wall and laptop', async () => {
    for (const size of [sizes.wall, sizes.laptop]) {
      const { page, end } = await open({ state: 'full', size });
      const cut = await page.locator('.row :is(h2, p:not(.big), .word, .unseen)').evaluateAll((all) =>
        all.filter((part) => part.scrollWidth > part.clientWidth + 1 || part.scrollHeight > part.clientHeight + 6).map((part) => part.textContent),
      );
      expect(cut).toEqual([]);
      const outside = await page.locator('.row').evaluateAll((rows) =>
        rows.flatMap((row) => {
          const box = row.getBoundingClientRect();
          return [...row.querySelectorAll('p, h2')].filter((part) => part.getBoundingClientRect().bottom > box.bottom + 1 || part.getBoundingClientRect().top < box.top - 1).map((part) => part.textContent);
        }),
      );
      expect(outside).toEqual([]);
      await end();
    }
  });

  it('lets no words on the ribbons run into each other or out of the picture', async () => {
    const { page } = await open({ state: 'full' });
    const clashes = await page.locator('.ribbon svg').evaluateAll((pictures) =>
      pictures.flatMap((picture) => {
        const frame = picture.getBoundingClientRect();
        const words = [...picture.querySelectorAll('.words')].map((text) => text.getBoundingClientRect());
        const drawn = [picture.querySelector('.now'), picture.querySelector('.haze-area')].flatMap((part) => (part === null ? [] : [part.getBoundingClientRect()]));
        return words.filter((box) => box.left < frame.left - 2 || box.right > frame.right + 2 || drawn.some((part) => box.left < part.right && box.right > part.left)).map((box) => box.toJSON() as unknown);
      }),
    );
    expect(clashes).toEqual([]);
    expect(await page.locator('.ribbon .words').count()).toBeGreaterThan(5);
  });

  it('says a state by word and shape, and greys what is not current', async () => {
    const { page } = await open({ state: 'eight' });
    const row = (name: string) => page.locator('.row', { hasText: name });
    expect(await row('Barrel 3').locator('.flag').getAttribute('data-state')).toBe('caution');
    expect(await row('Barrel 3').locator('.flag').innerText()).toMatch(/warm\s+unseen/);
    expect(await row('Barrel 5').locator('.big').getAttribute('class')).toContain('old');
    expect(await row('Barrel 5').locator('.age').innerText()).toBe('at 04:12, not current');
    expect(await row('Barrel 7').locator('.big').innerText()).not.toMatch(/127/);
    expect(await row('Barrel 7').locator('.age').innerText()).toContain('sensor disconnected');
    expect(await row('Barrel 6').locator('.flag').innerText()).toContain('empty');
    const shapes = await page.locator('.row .flag .mark').evaluateAll((marks) => marks.map((mark) => mark.innerHTML));
    expect(new Set(shapes).size).toBe(6);
  });

  it('shows a drum that grows warm while somebody looks', async () => {
    const { page, server } = await open();
    server.shed.changeDrum('barrel-2', growWarm);
    await page.locator('.row', { hasText: 'Barrel 2' }).locator('.flag[data-state=caution]').waitFor({ timeout: 2_000 });
    expect(await page.locator('.row', { hasText: 'Barrel 2' }).locator('.digits').innerText()).toBe('26.1');
    await page.locator('.counts', { hasText: '3 alerts' }).waitFor();
  });

  it('says when nothing is live any more, and mends itself', async () => {
    const { page, server } = await open();
    server.cut();
    await page.locator('.wall[data-live=no]').waitFor({ timeout: 8_000 });
    expect(await page.locator('[role=alert]').innerText()).toMatch(/Not live since 14:2\d/);
    expect(await page.locator('.row', { hasText: 'Barrel 2' }).locator('.age').innerText()).toMatch(/^at 14:23, not live$/);
    expect(await page.evaluate(() => document.documentElement.scrollHeight)).toBe(1_080);
    server.mend();
    await page.locator('.wall[data-live=yes]').waitFor({ timeout: 20_000 });
    expect(await page.locator('[role=alert]').count()).toBe(0);
  });

  it('says when the collector is silent', async () => {
    const { page, server } = await open();
    server.send('health', { status: 'degraded', version: 'x', now: '2027-06-11T04:54:30.000Z', collector: { status: 'silent', since: '2027-06-11T04:50:00.000Z', memoryMb: null } });
    await page.locator('.wall[data-live=no]').waitFor();
    expect(await page.locator('[role=alert]').innerText()).toMatch(/Not live since 14:20[^]*collector is silent/);
  });

  it('turns pages when there are more drums, alerts first on each, and stops when asked', async () => {
    const { page } = await open({ state: 'many' });
    const names = (): Promise<string[]> => page.locator('.row h2').allInnerTexts();
    const first = await names();
    expect(first.slice(0, 3)).toEqual(['Barrel 3', 'Barrel 5', 'Barrel 8 by the south door']);
    await page.getByRole('button', { name: 'Next page' }).click();
    const second = await names();
    expect(second.slice(0, 3)).toEqual(first.slice(0, 3));
    expect(second.slice(3)).not.toEqual(first.slice(3));
    await page.getByRole('button', { name: 'Stop turning' }).click();
    expect(await page.getByRole('button', { name: 'Turn pages' }).getAttribute('aria-pressed')).toBe('true');
  });

  it('keeps theme and units of this screen', async () => {
    const { page } = await open();
    await page.getByRole('button', { name: 'This screen' }).click();
    await page.getByRole('radio', { name: 'night' }).check();
    await page.getByRole('radio', { name: '°F' }).check();
    await page.getByRole('button', { name: 'Close' }).click();
    expect(await page.locator('html').getAttribute('data-theme')).toBe('night');
    // 16.5 °C × 9/5 + 32 = 61.7 °F (NIST SP 811, appendix B.8).
    expect(await page.locator('.row', { hasText: 'Barrel 2' }).locator('.big').innerText()).toMatch(/61\.7\s*°F/);
    await page.reload();
    await page.locator('.row').first().waitFor();
    expect(await page.locator('html').getAttribute('data-theme')).toBe('night');
    expect(await page.locator('.row', { hasText: 'Barrel 2' }).locator('.big').innerText()).toContain('°F');
  });

  it('is a list on a phone, no wider than the phone', async () => {
    const { page } = await open({ state: 'eight', size: sizes.phone });
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(390);
    await page.getByRole('link', { name: 'Barrel 3' }).click();
    await page.waitForURL('**/drums/barrel-3');
  });

  it('never loads the chart library', async () => {
    const { page } = await open();
    const scripts = await page.evaluate(() => performance.getEntriesByType('resource').map(({ name }) => name).filter((name) => name.endsWith('.js')));
    expect(scripts.length).toBeGreaterThan(0);
    expect(scripts.filter((name) => name.includes('chart'))).toEqual([]);
  });

  it('can be walked by keyboard', async () => {
    const { page } = await open();
    await page.keyboard.press('Tab');
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe('2 alerts');
    await page.keyboard.press('Tab');
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe('Barrel 1');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    await page.waitForURL('**/drums/barrel-2');
    await page.goBack();
    await page.locator('.row').first().waitFor();
  });
});

describe('the wall without a good answer', { timeout: 60_000 }, () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await launchChromium();
  });
  afterAll(() => browser.close());

  it.each([
    ['fails', 500, '{}'],
    ['is of another version', 200, '{"site": 4}'],
  ])('says so when the server %s, and mends itself', async (_, status, text) => {
    const { page, server, end } = await visit(browser, { before: (fixture) => fixture.failWith(status, text) });
    await page.locator('.notice [role=alert]').waitFor();
    expect(await page.locator('.notice').innerText()).toContain('tries again by itself');
    server.failWith(null);
    await page.locator('.row').first().waitFor({ timeout: 15_000 });
    await end();
  });
});
