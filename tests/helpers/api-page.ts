import { fileURLToPath } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { openApiHarness, type ApiHarness } from './api-harness.ts';
import { sizes } from './browser.ts';

const dashboard = fileURLToPath(new URL('../../dashboard/dist', import.meta.url));

/** The built dashboard before the real API, signed in as the owner of a shed that the test has filled. */
export interface ApiPage {
  readonly page: Page;
  readonly harness: ApiHarness;
  /** What the page complained of; answers that were refused aside. */
  readonly complaints: readonly string[];
  readonly end: () => Promise<void>;
}

export interface ApiPageOptions {
  /** Asked for when the shed is filled. */
  readonly path: () => string;
  readonly zone: string;
  readonly size?: { readonly width: number; readonly height: number };
  readonly theme?: 'light' | 'dark';
  readonly fill: (harness: ApiHarness) => Promise<void>;
}

export const openApiPage = async (browser: Browser, { path, zone, size = sizes.laptop, theme = 'light', fill }: ApiPageOptions): Promise<ApiPage> => {
  const harness = await openApiHarness({ dashboard, zone });
  const owner = await harness.as('owner');
  await fill(harness);
  const context = await browser.newContext({ viewport: size, colorScheme: theme, timezoneId: 'Europe/Paris', locale: 'en-GB', reducedMotion: 'reduce' });
  const [name = '', value = ''] = (owner.cookie ?? '').split('=');
  await context.addCookies([{ name, value, url: harness.url }]);
  const page = await context.newPage();
  page.setDefaultTimeout(10_000);
  const complaints: string[] = [];
  page.on('pageerror', (error) => complaints.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error' && !message.text().startsWith('Failed to load resource')) complaints.push(message.text());
  });
  await page.goto(harness.url + path());
  return {
    page,
    harness,
    complaints,
    end: async () => {
      await context.close();
      await harness.close();
    },
  };
};
