import { existsSync } from 'node:fs';
import { kill } from 'node:process';
import { fileURLToPath } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium, sizes } from '../helpers/browser.ts';
import { createPlace, type Running } from '../helpers/running.ts';
import { until } from '../helpers/until.ts';

/** The real program and a real browser: what a person does while the shed computer answers late, or dies, stands in the journal once. */
const place = createPlace();
let browser: Browser;
let demo: Running;
let page: Page;
beforeAll(async () => {
  if (!existsSync(fileURLToPath(new URL('../../dashboard/dist/index.html', import.meta.url)))) throw new Error('The dashboard is not built: run `npm run build` first.');
  browser = await launchChromium();
  demo = await place.start({ options: ['--demo'], environment: { BRINEWARD_OWNER_PASSWORD: 'olives' } });
  const context = await browser.newContext({ viewport: sizes.phone });
  await context.request.post(`${demo.http}/api/session`, { data: { name: 'owner', password: 'olives' } });
  page = await context.newPage();
  await page.goto(`${demo.http}/drums/barrel-2`);
  await page.locator('.act-grid').waitFor();
}, 60_000);
afterAll(async () => {
  await browser.close();
  await place.clear();
});

interface Written {
  readonly kind: string;
  readonly body: Readonly<Record<string, unknown>>;
}

const skims = async (note: string): Promise<readonly Written[]> => {
  const answer = await page.context().request.get(`${demo.http}/api/journal?limit=1000`);
  const { entries } = (await answer.json()) as { readonly entries: readonly Written[] };
  return entries.filter(({ kind, body }) => kind === 'skimmed' && body['note'] === note);
};

const skim = async (note: string): Promise<void> => {
  await page.getByRole('button', { name: /^Skimmed/ }).click();
  await page.getByRole('dialog').getByRole('button', { name: note }).click();
};

const allWritten = (): Promise<void> => page.locator('.kept').waitFor({ state: 'detached', timeout: 60_000 });

describe('an act at a phone', { timeout: 120_000 }, () => {
  it('is written once when the first answer comes after the phone has stopped waiting and sent it again', async () => {
    const api = demo.childPid('api');
    kill(api, 'SIGSTOP');
    try {
      await skim('a trace of film');
      await page.locator('.kept', { hasText: '1 kept here' }).waitFor({ timeout: 30_000 });
    } finally {
      kill(api, 'SIGCONT');
    }
    await allWritten();
    // The first request has been waiting in the socket all the while: both have arrived by now.
    await until('the act', async () => (await skims('a trace of film')).length > 0);
    expect(await skims('a trace of film')).toHaveLength(1);
  });

  it('is kept while the API is dead, and written once when it is back', async () => {
    kill(demo.childPid('api'), 'SIGKILL');
    await skim('film in patches');
    await allWritten();
    await page.getByRole('dialog').waitFor({ state: 'detached' });
    await until('the act', async () => (await skims('film in patches').catch(() => [])).length > 0, 30_000);
    expect(await skims('film in patches')).toHaveLength(1);
  });
});
