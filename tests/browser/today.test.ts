import type { Browser } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium, sizes, visit, type Visit, type VisitOptions } from '../helpers/browser.ts';
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

const open = async (path: string, first: string, options: VisitOptions = {}): Promise<Visit> => {
  current = await visit(browser, { path, size: sizes.phone, ...options });
  await current.page.locator(first).first().waitFor();
  return current;
};
const plain = (text: string): string => text.replaceAll('\u00a0', ' ');

describe('today in a browser', { timeout: 60_000 }, () => {
  const today = (options: VisitOptions = {}): Promise<Visit> => open('/today', '.task-row', options);
  const row = (visited: Visit, words: string) => visited.page.locator('.task-row', { hasText: words });

  it('says drum by drum what to do and with how much, and what to carry in all, water apart', async () => {
    const { page } = await today();
    expect(await page.locator('.drum-tasks h2 a').allInnerTexts()).toEqual(['Barrel 1', 'Barrel 2', 'Crock']);
    expect(plain(await page.locator('.carry').innerText())).toMatch(/^26 L brine, 1\.74 kg salt to carry\s+9 L fresh water, for hygiene$/);
    expect(plain(await page.locator('.task-row', { hasText: 'Change brine' }).innerText())).toMatch(/26 L · 1\.74 kg salt/);
    expect(await page.locator('.task-row[data-late=yes]').allInnerTexts()).toEqual([expect.stringMatching(/Change water[^]*overdue[^]*hygiene/)]);
    expect(plain(await page.locator('.later').innerText())).toMatch(/Sun 13 Jun\s+Barrel 3: taste\s+Thu 17 Jun\s+Barrel 4: measure pH/);
  });

  it('is done in two touches, and taken back by a third', async () => {
    const visited = await today();
    const { page, server } = visited;
    await row(visited, 'Change brine').click();
    await page.getByRole('button', { name: 'Done' }).click();
    await page.locator('.undo').waitFor();
    expect(server.shed.written).toEqual([expect.objectContaining({ kind: 'brine-changed', brineL: 26, saltGPerL: 66.92 })]);
    await row(visited, 'Change brine').waitFor({ state: 'detached' });
    expect(await page.locator('.carry').innerText()).not.toContain('brine');
    await page.getByRole('button', { name: 'Undo' }).click();
    await until('the correction', () => server.shed.written.length === 2);
    expect(server.shed.written[1]).toMatchObject({ kind: 'corrected', replacement: null });
  });

  it('tastes in two touches too, and settles what is no act on the fruit', async () => {
    const visited = await today();
    const { page, server } = visited;
    await row(visited, 'Taste').click();
    await page.getByRole('button', { name: '4', exact: true }).click();
    await row(visited, 'Taste').waitFor({ state: 'detached' });
    expect(server.shed.written).toEqual([expect.objectContaining({ kind: 'tasted', bitterness: 4 })]);
    await row(visited, 'Review the record').click();
    await page.getByRole('button', { name: 'Done' }).click();
    await row(visited, 'Review the record').waitFor({ state: 'detached' });
    expect(await page.locator('.said').innerText()).toBe('Barrel 1: Review the record done');
  });

  it('leaves a task out with a reason', async () => {
    const visited = await today();
    const { page, server } = visited;
    await row(visited, 'Change brine').click();
    await page.getByRole('button', { name: /^Leave it out/ }).click();
    await page.getByRole('button', { name: 'no salt or water at hand' }).click();
    await row(visited, 'Change brine').waitFor({ state: 'detached' });
    expect(server.shed.written).toEqual([{ kind: 'task-skipped', task: 'st27-b9-change-brine', reason: 'no salt or water at hand' }]);
  });

  it('says when nothing is due', async () => {
    const { page } = await open('/today', '.nothing-due', { state: 'empty' });
    expect(await page.locator('.nothing-due').innerText()).toContain('Nothing is due today');
  });

  it('only shows to a wall what somebody else does', async () => {
    const { page } = await today({ before: ({ shed }) => void (shed.session.current = { user: { name: 'wall', role: 'wall' }, setUpNeeded: false, demo: null }) });
    expect(await page.locator('button.task-row').count()).toBe(0);
    expect(await page.getByRole('link', { name: /Walk the round/ }).count()).toBe(0);
  });

  it('is walked by keyboard: Enter opens, Enter does', async () => {
    const visited = await today({ size: sizes.laptop });
    const { page, server } = visited;
    await row(visited, 'Change brine').focus();
    await page.keyboard.press('Enter');
    await page.getByRole('dialog').waitFor();
    await page.keyboard.press('Enter');
    await page.locator('.undo').waitFor();
    expect(server.shed.written).toHaveLength(1);
    await row(visited, 'Taste').focus();
    await page.keyboard.press('Enter');
    await page.getByRole('dialog').waitFor();
    for (const key of ['1', '0']) await page.keyboard.press(key);
    await page.getByText('10 of ten: Enter writes it').waitFor();
    await page.keyboard.press('Enter');
    await until('the tasting', () => server.shed.written.length === 2);
    expect(server.shed.written[1]).toMatchObject({ kind: 'tasted', bitterness: 10 });
  });

  it('leads to the other screens from the top of a phone and the foot of a wall', async () => {
    const { page } = await today();
    const more = page.locator('.places-more summary');
    for (const [name, path, isAtHand] of [['Wall', '/', true], ['Today', '/today', true], ['Work out', '/work-out', false], ['Compare', '/compare', false]] as const) {
      if (!isAtHand) await more.click();
      await page.locator('.places').getByRole('link', { name, exact: true }).click();
      await page.waitForURL(`**${path}`);
      if (isAtHand) continue;
      // Where the screen is one of the others, the list bears its name.
      expect(await more.innerText()).toBe(name);
      await page.goBack();
    }
    await more.click();
    const box = await page.locator('.places a:visible, .places summary').evaluateAll((all) => all.map((link) => link.getBoundingClientRect().toJSON() as DOMRect));
    for (const { height, right } of box) {
      expect(height).toBeGreaterThanOrEqual(48);
      expect(right).toBeLessThanOrEqual(390);
    }
  });
});

describe('without signal', { timeout: 60_000 }, () => {
  /** Everything a phone wants ahead has come: the network has been quiet for half a second. */
  const settle = async ({ page }: Visit): Promise<void> => {
    await page.waitForFunction(() => ['today', 'round', 'drum', 'kept-dialog'].every((name) => performance.getEntriesByType('resource').some((entry) => entry.name.includes(`/${name}-`) && entry.name.endsWith('.js'))));
    await until('all stories', () => page.evaluate(() => performance.getEntriesByType('resource').filter((entry) => entry.name.includes('/api/batches/')).length >= 5));
  };

  it('acts on several screens are kept, told, and sent once and in order when it is back', async () => {
    const visited = await open('/today', '.task-row');
    const { page, server } = visited;
    await settle(visited);
    server.cut();
    await page.locator('.lost').waitFor();
    expect(await page.locator('.kept').innerText()).toContain('Keep this page open');
    await page.locator('.task-row', { hasText: 'Change brine' }).click();
    await page.getByRole('button', { name: 'Done' }).click();
    await page.locator('.task-row[data-kept=yes]', { hasText: 'done, kept here' }).waitFor();
    await page.locator('.drum-tasks').getByRole('link', { name: 'Crock' }).click();
    await page.getByRole('button', { name: /^Skimmed/ }).click();
    await page.getByRole('button', { name: 'Done' }).click();
    await page.locator('.kept', { hasText: '2 kept here' }).waitFor();
    await page.locator('.places').getByRole('link', { name: 'Today' }).click();
    await page.locator('.round-link').click();
    await page.getByRole('button', { name: 'Seen, all well' }).click();
    await page.locator('.kept', { hasText: '3 kept here, sent when there is signal' }).waitFor();
    await page.locator('.kept').getByRole('button', { name: 'Show' }).click();
    await page.locator('.kept-list li').first().waitFor();
    expect(await page.locator('.kept-list b').allInnerTexts()).toEqual(['Brine changed', 'Skimmed', 'Seen']);
    expect(server.shed.written).toEqual([]);
    server.mend();
    await page.getByText('Nothing is kept here any more').waitFor({ timeout: 30_000 });
    expect(server.shed.written.map((entry) => (entry as { kind: string }).kind)).toEqual(['brine-changed', 'skimmed', 'observed']);
  });

  it('an act whose answer was lost is written once', async () => {
    const visited = await open('/today', '.task-row');
    const { page, server } = visited;
    server.loseAnswers(true);
    await page.locator('.task-row', { hasText: 'Change brine' }).click();
    await page.getByRole('button', { name: 'Done' }).click();
    await page.locator('.kept', { hasText: '1 kept here' }).waitFor();
    expect(server.shed.written).toHaveLength(1);
    server.loseAnswers(false);
    await page.locator('.kept').waitFor({ state: 'detached', timeout: 40_000 });
    expect(server.shed.written).toHaveLength(1);
  });

  it('an act is still there when the page was closed, and is sent by the next one', async () => {
    const visited = await open('/today', '.task-row');
    const { page, server } = visited;
    await settle(visited);
    server.cut();
    await page.locator('.lost').waitFor();
    await page.locator('.task-row', { hasText: 'Change brine' }).click();
    await page.getByRole('button', { name: 'Done' }).click();
    await page.locator('.undo').waitFor();
    await page.close();
    server.mend();
    const next = await page.context().newPage();
    await next.goto(`${server.url}/today`);
    await until('the act', () => server.shed.written.length === 1);
    await next.locator('.task-row', { hasText: 'Taste' }).waitFor();
    expect(await next.locator('.kept').count()).toBe(0);
  });

  it('what was taken back before it was sent leaves no trace', async () => {
    const visited = await open('/today', '.task-row');
    const { page, server } = visited;
    await settle(visited);
    server.cut();
    await page.locator('.lost').waitFor();
    await page.locator('.task-row', { hasText: 'Change brine' }).click();
    await page.getByRole('button', { name: 'Done' }).click();
    await page.getByRole('button', { name: 'Undo' }).click();
    await page.locator('.kept', { hasText: 'No signal' }).waitFor();
    await page.locator('button.task-row', { hasText: 'Change brine' }).waitFor();
    server.mend();
    await page.locator('.lost').waitFor({ state: 'detached', timeout: 30_000 });
    expect(server.shed.written).toEqual([]);
  });

  it('an act that is refused later is kept, shown, and put right', async () => {
    const visited = await open('/today', '.task-row');
    const { page, server } = visited;
    await settle(visited);
    server.cut();
    await page.locator('.lost').waitFor();
    await page.locator('.task-row', { hasText: 'Taste' }).click();
    await page.getByRole('button', { name: '4', exact: true }).click();
    await page.locator('.undo').waitFor();
    server.refuseActs(JSON.stringify({ type: 'x', title: 'This cannot be done now', status: 409, code: 'wrong-state', detail: 'The lot had left its drum by then.' }));
    server.mend();
    await page.locator('.kept', { hasText: '1 not taken' }).waitFor({ timeout: 30_000 });
    await page.getByRole('button', { name: 'Show' }).click();
    expect(await page.locator('.kept-list').innerText()).toContain('The lot had left its drum by then');
    server.refuseActs(null);
    await page.getByRole('button', { name: 'Put it right' }).click();
    await page.getByRole('button', { name: '5', exact: true }).click();
    await until('the act', () => server.shed.written.length === 1);
    expect(server.shed.written[0]).toMatchObject({ kind: 'tasted', bitterness: 5 });
  });
});

describe('a round in a browser', { timeout: 60_000 }, () => {
  const stops = 5;

  it('is one touch a drum, no drum seen twice by a double touch, and well under a minute for all', async () => {
    const { page, server } = await open('/round', '.act-grid');
    const startedAt = performance.now();
    for (let stop = 1; stop <= stops; stop += 1) {
      await page.getByText(`Round, ${String(stop)} of ${String(stops)}`).waitFor();
      await page.locator('.round-foot .main-act[aria-disabled=false]').dblclick();
    }
    await page.getByRole('heading', { name: 'All drums seen' }).waitFor();
    expect(performance.now() - startedAt).toBeLessThan(60_000);
    await until('all acts', () => server.shed.written.length === stops);
    for (const entry of server.shed.written) expect(entry).toMatchObject({ kind: 'observed', sign: 'all-well' });
  });

  it('is walked by keyboard alone: Enter, arrows, number keys', async () => {
    const { page, server } = await open('/round', '.act-grid', { size: sizes.laptop });
    const at = (stop: number) => page.getByText(`Round, ${String(stop)} of ${String(stops)}`).waitFor();
    const ready = () => page.locator('.round-foot .main-act[aria-disabled=false]').waitFor();
    await at(1);
    await page.keyboard.press('Enter');
    await at(2);
    await ready();
    await page.keyboard.press('ArrowRight');
    await at(3);
    await ready();
    await page.keyboard.press('ArrowLeft');
    await at(2);
    await ready();
    await page.keyboard.press('3');
    await page.getByRole('dialog', { name: 'Measured' }).waitFor();
    for (const key of ['4', '.', '2', '1']) await page.keyboard.press(key);
    await page.keyboard.press('Enter');
    await page.getByRole('dialog').waitFor({ state: 'detached' });
    await page.getByText('written').first().waitFor();
    for (let stop = 2; stop <= stops; stop += 1) {
      await at(stop);
      await ready();
      await page.keyboard.press(stop === 4 ? 'ArrowRight' : 'Enter');
    }
    await page.getByRole('heading', { name: '4 of 5 drums seen' }).waitFor();
    await page.getByRole('button', { name: /^Back to Barrel 5/ }).waitFor();
    await until('all acts', () => server.shed.written.length === 5);
    expect(server.shed.written[1]).toMatchObject({ kind: 'measured', quantity: 'ph', value: 4.21 });
  });

  it('stands with all its acts on one screen of a phone, and next at the bottom right', async () => {
    const { page } = await open('/round', '.act-grid');
    const next = await page.getByRole('button', { name: 'Next ›' }).boundingBox();
    expect((next?.x ?? 0) + (next?.width ?? 0)).toBeGreaterThan(370);
    expect((next?.y ?? 0) + (next?.height ?? 0)).toBeGreaterThan(820);
    const top = await page.locator('.round-foot').evaluate((foot) => foot.getBoundingClientRect().top);
    const lowest = await page.locator('.act-grid').evaluate((grid) => grid.getBoundingClientRect().bottom);
    expect(lowest).toBeLessThan(top);
    const sizesOf = await page.locator('.act-grid button, .round-foot > .main-act, .round-foot > .quiet:last-child').evaluateAll((all) => all.map((key) => Math.min(key.getBoundingClientRect().width, key.getBoundingClientRect().height)));
    expect(Math.min(...sizesOf)).toBeGreaterThanOrEqual(96);
  });

  it('stays awake where the browser offers that, and lets go at the end', async () => {
    const { page } = await open('/round', '.act-grid');
    // Chromium offers it on a trusted address; the page's own request is watched from outside.
    const offered = await page.evaluate(() => 'wakeLock' in navigator);
    expect(offered).toBe(true);
    await page.getByRole('link', { name: 'End' }).click();
    await page.addInitScript(() => {
      const seen: string[] = [];
      Object.assign(window, { seen });
      Object.defineProperty(navigator, 'wakeLock', { value: { request: (kind: string) => (seen.push(kind), Promise.resolve({ release: () => (seen.push('released'), Promise.resolve()) })) } });
    });
    await page.goto(page.url().replace(/\/today$/, '/round'));
    await page.waitForFunction(() => (window as unknown as { seen: string[] }).seen.length === 1);
    await page.getByRole('link', { name: 'End' }).click();
    await page.waitForFunction(() => (window as unknown as { seen: string[] }).seen.join() === 'screen,released');
  });

  it('keeps a sign in sight with what to check and do, and goes no further by itself', async () => {
    const { page } = await open('/round', '.act-grid');
    await page.getByRole('button', { name: /^Seen or smelled/ }).click();
    await page.getByRole('button', { name: 'flat film' }).click();
    await page.locator('.sign-card').waitFor();
    expect(await page.locator('.sign-card').innerText()).toMatch(/Do\s+skim/);
    await page.getByText(`Round, 1 of ${String(stops)}`).waitFor();
  });
});
