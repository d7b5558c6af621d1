import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { chromium, type Browser, type BrowserContextOptions, type Page } from 'playwright-core';
import { systemPart } from './system-parts.ts';
import { serveFixtures, type FixtureServer } from './fixture-server.ts';
import type { ShedState } from './shed-fixture.ts';

/** The real built dashboard in a real Chromium, with zone, language and pixel ratio pinned, against an invented shed. */
const dist = fileURLToPath(new URL('../../dashboard/dist', import.meta.url));

export const launchChromium = (): Promise<Browser> =>
  chromium.launch({
    executablePath: systemPart('chromium'),
    args: ['--headless', '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync'],
  });

export interface Visit {
  readonly page: Page;
  readonly server: FixtureServer;
  /** What the page complained of, the content policy included; refused connections aside, which some tests bring about. */
  readonly complaints: readonly string[];
  readonly end: () => Promise<void>;
}

export interface VisitOptions {
  readonly state?: ShedState;
  readonly path?: string;
  readonly theme?: 'day' | 'night';
  readonly size?: { readonly width: number; readonly height: number };
  /** Fingers do the pointing. */
  readonly touch?: boolean;
  readonly before?: (server: FixtureServer) => void;
}

export const sizes = { wall: { width: 1_920, height: 1_080 }, laptop: { width: 1_366, height: 768 }, phone: { width: 390, height: 844 } } as const;

export const visit = async (browser: Browser, { state = 'full', path = '/', theme = 'day', size = sizes.wall, touch = false, before }: VisitOptions = {}): Promise<Visit> => {
  if (!existsSync(dist)) throw new Error('The dashboard is not built: run `npm run build` first.');
  const server = await serveFixtures(dist, state);
  before?.(server);
  const options: BrowserContextOptions = { viewport: size, colorScheme: theme === 'night' ? 'dark' : 'light', timezoneId: 'Europe/Paris', locale: 'en-GB', deviceScaleFactor: 1, reducedMotion: 'reduce', hasTouch: touch, isMobile: touch };
  const context = await browser.newContext(options);
  const page = await context.newPage();
  page.setDefaultTimeout(10_000);
  const complaints: string[] = [];
  page.on('pageerror', (error) => complaints.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error' && !message.text().startsWith('Failed to load resource')) complaints.push(message.text());
  });
  await page.goto(server.url + path);
  return {
    page,
    server,
    complaints,
    end: async () => {
      await context.close();
      await server.close();
    },
  };
};
