import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Locator, Page } from 'playwright-core';
import { expect } from 'vitest';
import { dayMs, hourMs } from '#contract';
import { harnessStart, type ApiHarness } from './api-harness.ts';
import { judge } from './axe.ts';
import { sizes } from './browser.ts';
import { collectorStatus } from './collector-status.ts';

/** A phone in wet hands: it is taken out on a day, touched, and put away. */
export const takePhone = (page: Page, harness: ApiHarness) => {
  const sheet = page.locator('dialog.sheet');
  const key = (name: string | RegExp, within: Page | Locator = page): Locator => within.getByRole('button', { name });
  const task = (name: RegExp): Locator => page.getByRole('button', { name });
  /** Not where the finger was a moment ago: that would be a drop of water. */
  const aside = { position: { x: 40, y: 20 } };
  const collectorSays = (): void => {
    writeFileSync(join(harness.directory, 'collector-status.json'), JSON.stringify({ ...collectorStatus, writtenAt: harness.machine.now() }));
    harness.service.look();
  };
  collectorSays();
  return {
    sheet, key, task,
    /** Another day, or another hour: the phone asks the shed anew. */
    at: async (day: number, hour = 0): Promise<void> => {
      harness.clock.set(harnessStart + day * dayMs + hour * hourMs);
      harness.machine.set(harness.clock.now());
      collectorSays();
      harness.service.tick();
      await page.reload();
      await page.locator('.places, .steps').first().waitFor();
    },
    screen: async (name: string): Promise<void> => {
      const at = page.locator('.places').getByRole('link', { name, exact: true }).locator('visible=true');
      if ((await at.count()) === 0) await page.locator('.places-more summary').tap();
      await at.tap();
    },
    open: async (name: string | RegExp): Promise<void> => {
      await key(name).first().tap();
      await sheet.waitFor();
    },
    press: (name: string | RegExp): Promise<void> => key(name, sheet).tap(aside),
    done: async (name: string | RegExp = 'Done'): Promise<void> => {
      await key(name, sheet).tap(aside);
      await sheet.waitFor({ state: 'detached' });
    },
    type: async (digits: string): Promise<void> => {
      for (const digit of digits) await sheet.getByRole('button', { name: digit === '.' ? 'point' : digit, exact: true }).tap();
    },
    amount: (name: string, value: number): Promise<void> => sheet.getByRole('group', { name }).getByRole('textbox').fill(String(value)),
    lot: async (): Promise<void> => {
      await page.locator('.lot-row').first().tap();
      await page.locator('.lot-head').waitFor();
    },
    /** No fault that a machine can find, and no key or word too small for a wet thumb. */
    isFit: async (): Promise<void> => {
      expect(await judge(page)).toEqual([]);
      expect(await smallTargets(page)).toEqual([]);
      expect(await page.evaluate('document.documentElement.scrollWidth')).toBeLessThanOrEqual(sizes.phone.width);
    },
  };
};

/**
 * What is too small for a wet thumb on a phone: keys under 48 px either way, and words under 18 px on them. Words within a text are no
 * keys (WCAG 2.2, 2.5.8, exception for inline targets); a box within its label is pressed by the label.
 */
const smallTargets = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    const scope: ParentNode = document.querySelector('dialog[open]') ?? document;
    return [...scope.querySelectorAll<HTMLElement>('a, button, summary, select, input:not(.check input)')].flatMap((each) => {
      const { width, height } = each.getBoundingClientRect();
      if (width === 0 || !each.checkVisibility() || getComputedStyle(each).display === 'inline') return [];
      const worded = [each, ...each.querySelectorAll<HTMLElement>('*')].filter(({ childNodes }) => [...childNodes].some((node) => node.nodeType === Node.TEXT_NODE && (node.textContent ?? '').trim() !== ''));
      const leastPx = Math.min(...worded.map((part) => parseFloat(getComputedStyle(part).fontSize)));
      return Math.min(width, height) >= 47.5 && leastPx >= 18 ? [] : [`${each.tagName} ${(each.innerText || (each.getAttribute('aria-label') ?? '')).slice(0, 40)}: ${String(Math.round(width))} by ${String(Math.round(height))}, words of ${String(leastPx)} px`];
    });
  });
