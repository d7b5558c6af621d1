import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium, sizes, visit } from '../helpers/browser.ts';

describe('first steps and the door', { timeout: 60_000 }, () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await launchChromium();
  });
  afterAll(() => browser.close());

  it('lead from an empty shed to a reading that shows itself, and on to a batch', async () => {
    const { page, server, complaints, end } = await visit(browser, { state: 'empty', size: sizes.laptop });
    await page.waitForURL('**/start');
    await page.locator('code').first().waitFor();
    expect(await page.locator('code').allInnerTexts()).toEqual([
      'brineward/saltbush/probe/probe-1/temperature',
      'mosquitto_pub -h 192.168.4.20 -p 1883 -t brineward/saltbush/probe/probe-1/temperature -m 18.4',
    ]);
    await page.getByLabel(/Name, as it stands/).fill('Barrel 1');
    await page.getByRole('button', { name: 'Name it' }).click();
    await page.getByText('Listening …').waitFor();
    server.shed.hear('probe-1', 18.4);
    await page.getByText(/Heard probe-1: 18\.4/).waitFor({ timeout: 5_000 });
    await page.getByRole('button', { name: 'Place here' }).click();
    await page.getByText('Barrel 1 is being watched.').waitFor();
    await page.getByRole('link', { name: 'Open a batch' }).click();
    await page.waitForURL('**/drums/barrel-1');
    await page.getByRole('button', { name: 'Open the batch' }).waitFor();
    expect(complaints).toEqual([]);
    await end();
  });

  it('say which field of a refused drum was wrong', async () => {
    const { page, server, end } = await visit(browser, { state: 'empty' });
    await page.waitForURL('**/start');
    server.failWith(409, JSON.stringify({ type: 'x', title: 'This name is taken', status: 409, code: 'already-exists', detail: 'There is a drum called Barrel 1 already.' }));
    await page.getByRole('button', { name: 'Name it' }).click();
    const refusal = page.getByRole('alert').filter({ hasText: 'There is a drum called Barrel 1 already.' });
    await refusal.waitFor();
    expect(await refusal.innerText()).toContain('This name is taken');
    await end();
  });

  it('let a demo visitor in at a touch', async () => {
    const { page, end } = await visit(browser, { before: ({ shed }) => void (shed.session.current = { user: null, setUpNeeded: false, demo: { name: 'owner', password: 'olives' } }) });
    expect(await page.locator('.demo').innerText()).toContain('Name owner, password olives');
    await page.getByRole('button', { name: 'Look around the demo' }).click();
    await page.locator('.row').first().waitFor();
    await end();
  });

  it('refuse a wrong password in words, and let the right one in', async () => {
    const { page, end } = await visit(browser, { path: '/drums/barrel-2', before: ({ shed }) => void (shed.session.current = { user: null, setUpNeeded: false, demo: null }) });
    await page.getByLabel('Password').fill('figs');
    await page.getByRole('button', { name: 'Sign in' }).click();
    expect(await page.getByRole('alert').innerText()).toContain('Name or password is wrong');
    await page.getByLabel('Password').fill('olives');
    await page.getByRole('button', { name: 'Sign in' }).click();
    await page.getByRole('heading', { name: 'Barrel 2' }).waitFor();
    await end();
  });

  it('ask for the set-up code at the very first visit', async () => {
    const { page, end } = await visit(browser, { state: 'empty', before: ({ shed }) => void (shed.session.current = { user: null, setUpNeeded: true, demo: null }) });
    await page.getByLabel('Set-up code').fill('wrong');
    await page.getByLabel('A password for the owner').fill('long enough');
    await page.getByRole('button', { name: 'Make the owner' }).click();
    expect(await page.getByRole('alert').innerText()).toContain('The set-up code is wrong');
    await page.getByLabel('Set-up code').fill('brine-oak-17');
    await page.getByRole('button', { name: 'Make the owner' }).click();
    await page.waitForURL('**/start');
    await end();
  });

  it('bring whoever is signed out back to the door', async () => {
    const { page, end } = await visit(browser);
    await page.locator('.row').first().waitFor();
    await page.getByRole('button', { name: 'This screen' }).click();
    await page.getByRole('button', { name: /^Sign out/ }).click();
    await page.getByRole('heading', { name: 'Sign in' }).waitFor();
    expect(await page.locator('.row').count()).toBe(0);
    await end();
  });
});
