import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { judge } from '../helpers/axe.ts';
import { launchChromium, sizes, visit, type Visit, type VisitOptions } from '../helpers/browser.ts';

interface Screen extends VisitOptions {
  readonly name: string;
  readonly reach: (visit: Visit) => Promise<void>;
}

const wait = (selector: string) => async ({ page }: Visit): Promise<void> => page.locator(selector).first().waitFor();
const sheet = (button: RegExp) => async ({ page }: Visit): Promise<void> => {
  await page.getByRole('button', { name: button }).first().click();
  await page.getByRole('dialog').waitFor();
};

const screens: readonly Screen[] = [
  { name: 'the wall', state: 'eight', reach: wait('.ribbon svg') },
  { name: 'the wall on a phone', state: 'eight', size: sizes.phone, reach: wait('.ribbon svg') },
  {
    name: 'the wall without a connection', reach: async ({ page, server }) => {
      await page.locator('.row').first().waitFor();
      server.cut();
      await page.locator('.wall[data-live=no]').waitFor();
    },
  },
  { name: 'the settings', reach: sheet(/This screen/) },
  { name: 'a warm drum', path: '/drums/barrel-3', reach: wait('.chart-words:has-text("readings")') },
  { name: 'a silent drum on a phone', path: '/drums/barrel-5', size: sizes.phone, reach: wait('.alert-card') },
  { name: 'an empty drum', path: '/drums/barrel-6', state: 'eight', reach: wait('.batch-form') },
  { name: 'brine changed', path: '/drums/barrel-2', size: sizes.phone, reach: sheet(/^Brine changed/) },
  { name: 'tasted', path: '/drums/barrel-2', size: sizes.phone, reach: sheet(/^Tasted/) },
  { name: 'measured', path: '/drums/barrel-2', size: sizes.phone, reach: sheet(/^Measured/) },
  { name: 'seen or smelled', path: '/drums/barrel-2', size: sizes.phone, reach: sheet(/^Seen or smelled/) },
  { name: 'a correction', path: '/drums/barrel-2', reach: sheet(/^Correct: Tasted/) },
  { name: 'probes', path: '/drums/barrel-2', reach: sheet(/^Probes/) },
  { name: 'topped up', path: '/drums/barrel-2', size: sizes.phone, reach: sheet(/^Topped up/) },
  { name: 'skimmed', path: '/drums/barrel-2', size: sizes.phone, reach: sheet(/^Skimmed/) },
  { name: 'acid added', path: '/drums/barrel-2', size: sizes.phone, reach: async (current) => {
    await current.page.getByRole('button', { name: /^More/ }).click();
    await sheet(/^Acid added/)(current);
  } },
  { name: 'what follows from a sign', path: '/drums/barrel-2', size: sizes.phone, reach: async ({ page }) => {
    await page.getByRole('button', { name: /^Seen or smelled/ }).click();
    await page.getByRole('button', { name: 'mould', exact: true }).click();
    await page.locator('.sign-card').waitFor();
  } },
  { name: 'what if', path: '/drums/barrel-2', reach: async ({ page }) => {
    await page.getByRole('button', { name: '2 °C warmer' }).click();
    await page.getByText('Show the numbers').click();
  } },
  { name: 'a sheet typed in, with a mistake', path: '/type-in', size: sizes.phone, reach: async ({ page }) => {
    await page.getByLabel('1.2 pH').fill('44');
    await page.getByLabel('1.4 taste').fill('6');
    await page.getByRole('button', { name: /^Write/ }).click();
    await page.getByRole('alert').waitFor();
  } },
  { name: 'today', path: '/today', reach: wait('.task-row') },
  { name: 'today on a phone', path: '/today', size: sizes.phone, reach: wait('.task-row') },
  { name: 'today with nothing to do', path: '/today', state: 'empty', size: sizes.phone, reach: wait('.nothing-due') },
  { name: 'a task as its act', path: '/today', size: sizes.phone, reach: sheet(/Change brine/) },
  { name: 'a task left out', path: '/today', size: sizes.phone, reach: async (current) => {
    await sheet(/Change brine/)(current);
    await current.page.getByRole('button', { name: /^Leave it out/ }).click();
    await current.page.getByRole('button', { name: 'no time today' }).waitFor();
  } },
  {
    name: 'what is kept without signal', path: '/today', size: sizes.phone, reach: async ({ page, server }) => {
      await page.locator('.task-row').first().waitFor();
      server.failWith(503, JSON.stringify({ type: 'x', title: 'Not ready', status: 503, code: 'not-ready', detail: 'Wait.' }));
      await page.getByRole('button', { name: /Change brine/ }).click();
      await page.getByRole('button', { name: 'Done' }).click();
      await page.locator('.kept').getByRole('button', { name: 'Show' }).click();
      await page.locator('.kept-list li').waitFor();
    },
  },
  { name: 'a round', path: '/round', size: sizes.phone, reach: wait('.act-grid') },
  { name: 'the end of a round', path: '/round', state: 'one', size: sizes.phone, reach: async ({ page }) => {
    await page.locator('.act-grid').waitFor();
    await page.getByRole('button', { name: 'Next ›' }).click();
    await page.locator('.round-over').waitFor();
  } },
  { name: 'the first steps', state: 'empty', reach: wait('.step code') },
  { name: 'the door', reach: wait('.door form'), before: ({ shed }) => void (shed.session.current = { user: null, setUpNeeded: false, demo: { name: 'owner', password: 'olives' } }) },
  { name: 'the first visit', reach: wait('.door form'), before: ({ shed }) => void (shed.session.current = { user: null, setUpNeeded: true, demo: null }) },
];

/** WCAG 2.2, definition of relative luminance and of contrast ratio. */
const luminance = (hex: string): number => {
  const [red = 0, green = 0, blue = 0] = [1, 3, 5].map((at) => {
    const share = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
};
const contrast = (one: string, other: string): number => {
  const [high = 0, low = 0] = [luminance(one), luminance(other)].toSorted((a, b) => b - a);
  return (high + 0.05) / (low + 0.05);
};

describe.each(['day', 'night'] as const)('by %s', (theme) => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await launchChromium();
  });
  afterAll(() => browser.close());

  it.each(screens)('$name has no fault that a machine can find', { timeout: 60_000 }, async ({ reach, name: _, ...options }) => {
    const current = await visit(browser, { size: sizes.laptop, ...options, theme });
    await reach(current);
    expect(await judge(current.page)).toEqual([]);
    await current.end();
  });

  it('has enough contrast for the words and lines that are drawn', { timeout: 60_000 }, async () => {
    // White on black is 21 to 1, by the definition; grey #767676 on white is the known edge of 4.5 to 1.
    expect(contrast('#ffffff', '#000000')).toBeCloseTo(21, 5);
    expect(contrast('#767676', '#ffffff')).toBeCloseTo(4.54, 2);
    const { page, end } = await visit(browser, { theme });
    await page.locator('.row').first().waitFor();
    const ink = (name: string): Promise<string> => page.evaluate((token) => getComputedStyle(document.documentElement).getPropertyValue(`--${token}`).trim(), name);
    // Words: 4.5 to 1 (SC 1.4.3). Marks, lines and large figures: 3 to 1 (SC 1.4.11, 1.4.3).
    const pairs: readonly (readonly [string, string, number])[] = [
      ['ink', 'row', 4.5], ['dim', 'row', 4.5], ['dim', 'paper', 4.5], ['ink-soft', 'band', 4.5], ['ink-soft', 'ribbon', 4.5], ['ink', 'rest', 4.5], ['ink-soft', 'rest', 4.5], ['on-accent', 'accent', 4.5], ['dim', 'ribbon', 4.5],
      ['old', 'row', 3], ['trace', 'band', 3], ['red', 'band', 3], ['red', 'ribbon', 3], ['accent', 'row', 3], ['violet-strong', 'band', 3], ['edge-strong', 'row', 3], ['green', 'row', 4.5],
    ];
    const weak: string[] = [];
    for (const [front, back, least] of pairs) {
      const ratio = contrast(await ink(front), await ink(back));
      if (ratio < least) weak.push(`${front} on ${back}: ${ratio.toFixed(2)}, wanted ${String(least)}`);
    }
    expect(weak).toEqual([]);
    await end();
  });
});
