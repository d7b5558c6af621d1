import type { Browser } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { launchChromium, sizes, visit, type Visit, type VisitOptions } from '../helpers/browser.ts';

describe('a drum in a browser', { timeout: 60_000 }, () => {
  let browser: Browser;
  let current: Visit | null = null;
  const open = async (drum: string, options: VisitOptions = {}): Promise<Visit> => {
    current = await visit(browser, { path: `/drums/${drum}`, size: sizes.laptop, ...options });
    await current.page.locator('.drum-head').waitFor();
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

  it('gives an alert its three answers, and is told that somebody has seen it', async () => {
    const { page } = await open('barrel-3');
    const card = page.locator('.alert-card');
    const words = await card.innerText();
    expect(words).toContain('Brine is too warm');
    expect(words.replaceAll('\u00a0', ' ')).toMatch(/now\s+25\.9 °C\s+at first\s+25\.9 °C[^]*limit\s+25 °C[^]*since\s+12:10, 2 h so far[^]*source\s+common practice/);
    expect(words).toMatch(/Do now: Shade the drum/);
    await card.getByRole('button', { name: 'I have seen this' }).click();
    await card.getByText('seen by owner').waitFor();
    expect(await page.locator('.chip').innerText()).not.toContain('unseen');
  });

  it('writes the due act in two touches, with what was asked for, and takes it back', async () => {
    const { page, server } = await open('barrel-2', { size: sizes.phone });
    await page.locator('.due-act').click();
    await page.getByRole('button', { name: 'Done' }).click();
    await page.locator('.undo').waitFor();
    expect(server.shed.written).toHaveLength(1);
    expect(server.shed.written[0]).toMatchObject({ kind: 'brine-changed', brineL: 26, saltGPerL: 66.92 });
    expect(await page.locator('.due-act').count()).toBe(0);
    await page.getByRole('button', { name: 'Undo' }).click();
    await page.locator('.story del').first().waitFor();
    expect(server.shed.written[1]).toMatchObject({ kind: 'corrected', replacement: null });
    await page.locator('.undo').waitFor({ state: 'detached' });
  });

  it('works out the strength beside what is weighed, and warns of plain water', async () => {
    const { page } = await open('barrel-2', { size: sizes.phone });
    await page.locator('.due-act').click();
    // 1.74 kg in 26 L is 66.9 g/L, which is 6.4 % by mass (CRC density near 1.044 g/mL, from memory).
    expect((await page.locator('.worked-out').innerText()).replaceAll('\u00a0', ' ')).toContain('6.4 %');
    expect(await page.locator('.caution').count()).toBe(0);
    await page.getByRole('button', { name: 'less salt, weighed' }).click();
    expect(await page.getByLabel('salt, weighed', { exact: false }).getByRole('textbox').inputValue()).toBe('1.7');
    await page.getByRole('group', { name: 'salt, weighed' }).getByRole('textbox').fill('0');
    expect(await page.locator('.caution').innerText()).toContain('Plain water holds nothing back');
  });

  it('takes a tasting in two touches and a pH by its large keys', async () => {
    const { page, server } = await open('barrel-4', { size: sizes.phone });
    await page.getByRole('button', { name: /^Tasted/ }).click();
    await page.getByRole('button', { name: '4', exact: true }).click();
    await page.locator('.undo').waitFor();
    expect(server.shed.written[0]).toMatchObject({ kind: 'tasted', bitterness: 4 });
    await page.getByRole('button', { name: /^Measured/ }).click();
    for (const key of ['4', 'point', '2', '1']) await page.locator('.key-pad').getByRole('button', { name: key, exact: true }).click();
    await page.getByRole('button', { name: 'Done' }).click();
    await page.getByRole('dialog').waitFor({ state: 'detached' });
    expect(server.shed.written[1]).toMatchObject({ kind: 'measured', quantity: 'ph', value: 4.21 });
  });

  it('refuses a pH that cannot be', async () => {
    const { page } = await open('barrel-4');
    await page.getByRole('button', { name: /^Measured/ }).click();
    await page.getByRole('dialog').getByRole('textbox').first().fill('42');
    expect(await page.locator('.caution').innerText()).toContain('between 0 and 14');
    expect(await page.getByRole('button', { name: 'Done' }).isDisabled()).toBe(true);
  });

  it('answers a grave sign with what to do, never with a verdict', async () => {
    const { page } = await open('barrel-2');
    await page.getByRole('button', { name: /^Seen or smelled/ }).click();
    await page.getByRole('button', { name: 'mould', exact: true }).click();
    const advice = await page.locator('.sign-card').innerText();
    expect(advice).toContain('Hold the lot');
    expect(advice).toContain('never taste');
    expect(advice).toContain('Local rules come first');
    expect(advice).not.toMatch(/\bsafe\b/i);
    await page.getByRole('button', { name: 'Read' }).click();
    await page.locator('.sign-card').waitFor({ state: 'detached' });
  });

  it('corrects an entry and leaves the old one in sight', async () => {
    const { page, server } = await open('barrel-2');
    const before = await page.locator('.story del').count();
    await page.getByRole('button', { name: /^Correct: Tasted bitterness 4/ }).click();
    await page.getByLabel('Why').fill('counted wrongly');
    await page.getByRole('dialog').getByRole('button', { name: '5', exact: true }).click();
    await page.getByRole('dialog').waitFor({ state: 'detached' });
    expect(server.shed.written[0]).toMatchObject({ kind: 'corrected', reason: 'counted wrongly', replacement: { kind: 'tasted', bitterness: 5 } });
    await page.locator('.story del').nth(before).waitFor();
    expect(await page.locator('.story del').count()).toBe(before + 1);
  });

  it('keeps what was entered when the server refuses it, and what was done when the server is not ready', async () => {
    const { page, server } = await open('barrel-2');
    await page.locator('.due-act').click();
    server.failWith(409, JSON.stringify({ type: 'x', title: 'This cannot be done now', status: 409, code: 'wrong-state', detail: 'The lot had left its drum by then.' }));
    await page.getByRole('button', { name: 'Done' }).click();
    await page.getByRole('dialog').getByRole('alert').waitFor();
    expect(await page.getByRole('dialog').getByRole('alert').innerText()).toContain('The lot had left its drum by then');
    server.failWith(503, JSON.stringify({ type: 'x', title: 'Not ready', status: 503, code: 'not-ready', detail: 'The journal is being read.' }));
    await page.getByRole('button', { name: 'Done' }).click();
    await page.getByRole('dialog').waitFor({ state: 'detached' });
    await page.locator('.kept', { hasText: '1 kept here' }).waitFor();
    expect(server.shed.written).toHaveLength(0);
    server.failWith(null);
    await page.locator('.kept').waitFor({ state: 'detached', timeout: 30_000 });
    expect(server.shed.written).toHaveLength(1);
  });

  it.each([
    ['Topped up', 'Same brine', { kind: 'brine-topped-up', brineL: 1, saltGPerL: 67 }],
    ['Topped up', 'Plain water', { kind: 'brine-topped-up', brineL: 1, saltGPerL: 0 }],
    ['Skimmed', 'Done', { kind: 'skimmed' }],
    ['Skimmed', 'film in patches', { kind: 'skimmed', note: 'film in patches' }],
    ['Salt added', 'Done', { kind: 'salt-added', saltG: 500 }],
    ['Acid added', 'Done', { kind: 'acid-added', acid: 'acetic', ml: 250, strengthPercent: 5 }],
  ])('writes "%s" with "%s"', async (act, save, entry) => {
    const { page, server } = await open('barrel-2', { size: sizes.phone });
    if (entry.kind === 'salt-added' || entry.kind === 'acid-added') await page.getByRole('button', { name: /^More/ }).click();
    await page.getByRole('button', { name: new RegExp(`^${act}`) }).click();
    if (act === 'Topped up') expect(await page.getByRole('dialog').locator('.caution').innerText()).toMatch(/Plain water thins the brine: from about \d\.\d.% to about \d\.\d.%/);
    await page.getByRole('dialog').getByRole('button', { name: new RegExp(`^${save}`) }).click();
    await page.locator('.undo').waitFor();
    expect(server.shed.written).toEqual([expect.objectContaining(entry)]);
  });

  it('says what a new brine is as poured and where it settles', async () => {
    const { page } = await open('barrel-2', { size: sizes.phone });
    await page.locator('.due-act').click();
    expect((await page.locator('.worked-out').innerText()).replaceAll('\u00a0', ' ')).toMatch(/poured\s+6\.4 %[^]*settles at about\s+6\.[0-4] %[^]*in \d+ days/);
  });

  it('back-dates an act by one touch', async () => {
    const { page, server } = await open('barrel-4', { size: sizes.phone });
    await page.getByRole('button', { name: /^Tasted/ }).click();
    await page.getByRole('radio', { name: '1 h ago' }).check();
    await page.getByRole('button', { name: '7', exact: true }).click();
    await page.locator('.undo').waitFor();
    // The clock of the fixtures stands at 04:54 UTC and ticks on while somebody looks.
    expect(JSON.stringify(server.shed.written[0])).toMatch(/"at":"2027-06-11T03:5[45]/);
  });

  it('keeps its acts within the reach of wet hands: six of 96 pixels or more, none cut, on the first screen of a phone', async () => {
    const { page } = await open('barrel-2', { size: sizes.phone });
    const boxes = await page.locator('.act-grid button').evaluateAll((all) => all.map((button) => button.getBoundingClientRect().toJSON() as DOMRect));
    expect(boxes).toHaveLength(8);
    for (const { width, height } of boxes) expect(Math.min(width, height)).toBeGreaterThanOrEqual(96);
    for (const { bottom } of boxes.slice(0, 6)) expect(bottom).toBeLessThan(760);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(390);
  });

  it('draws readings, looks closer by buttons and by a drag, and tells the same in words', async () => {
    const { page } = await open('barrel-3');
    const words = page.locator('.chart-words');
    await words.getByText('4 Jun').waitFor();
    // The stretch over the limit is drawn in red, as soon as the chart library has come.
    await page.waitForFunction(() => {
      const canvas = document.querySelector<HTMLCanvasElement>('.chart canvas');
      const pixels = canvas?.getContext('2d')?.getImageData(0, 0, canvas.width, canvas.height).data ?? [];
      let red = 0;
      for (let index = 0; index < pixels.length; index += 4) if ((pixels[index] ?? 0) > 170 && (pixels[index + 1] ?? 0) < 60 && (pixels[index + 3] ?? 0) > 200) red += 1;
      return red > 200;
    });
    const week = await words.innerText();
    await page.getByRole('button', { name: 'Closer' }).click();
    await page.waitForFunction((before) => document.querySelector('.chart-words')?.textContent !== before, week);
    const closer = await words.innerText();
    const box = await page.locator('.chart canvas').boundingBox();
    if (box === null) throw new Error('no canvas');
    await page.mouse.move(box.x + box.width * 0.3, box.y + 100);
    await page.mouse.down();
    await page.mouse.move(box.x + box.width * 0.6, box.y + 100, { steps: 4 });
    await page.mouse.up();
    await page.waitForFunction((before) => document.querySelector('.chart-words')?.textContent !== before, closer);
    await page.getByRole('button', { name: 'whole cure' }).click();
    await words.getByText('18 May').waitFor();
    await page.getByRole('button', { name: 'Salt', exact: true }).click();
    await page.locator('.chart-empty').waitFor();
    expect(await page.locator('.chart-empty').innerText()).toContain('No salt readings');
  });

  it('opens a batch in an empty drum, with its caution', async () => {
    const { page } = await open('barrel-6', { state: 'eight' });
    expect(await page.locator('.batch-form .caution').count()).toBe(0);
    await page.getByRole('radio', { name: /water first/ }).check();
    expect(await page.locator('.batch-form .caution').innerText()).toContain('Local rules apply');
    await page.getByRole('radio', { name: /kept brine/ }).check();
    await page.getByLabel('Variety, if known').fill('Leccino');
    await page.getByRole('button', { name: 'Open the batch' }).click();
    await page.getByText('ST27-J2').waitFor();
    expect(await page.locator('.drum-head').innerText()).toContain('ferment, day 1');
  });

  it('says when there is no such drum', async () => {
    current = await visit(browser, { path: '/drums/barrel-77' });
    await current.page.locator('.notice').waitFor();
    expect(await current.page.locator('.notice').innerText()).toContain('There is no such thing here');
  });
});
