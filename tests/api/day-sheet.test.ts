import { afterEach, describe, expect, it } from 'vitest';
import { dayMs } from '#contract';
import { toRfc3339 } from '#domain/units/time.ts';
import { daySheetPdf } from '../../api/papers/day-sheet.ts';
import type { DaySheet, SheetDrum } from '../../api/shed/day-sheet-view.ts';
import { expectProblem, harnessStart, openApiHarness, openShed, type ApiHarness } from '../helpers/api-harness.ts';
import { pdfPages } from '../helpers/pdf.ts';

const drum = (over: Partial<SheetDrum> = {}): SheetDrum => ({ name: 'Barrel 1', lot: 'HO26-AW', stage: 'leach, day 11', cure: 'slit, changed brine', expected: ['Brine 17.4 °C, at 09:17'], tasks: ['Taste'], alert: null, ...over });
const sheet = (drums: readonly SheetDrum[], over: Partial<DaySheet> = {}): DaySheet => ({
  siteName: 'Home', date: Temporal.PlainDate.from('2026-11-12'), printedAt: Temporal.ZonedDateTime.from('2026-11-12T07:45[Europe/Athens]'), drums, elsewhere: [], seal: null, ...over,
});
const pagesOf = async (shown: DaySheet): Promise<string[]> => pdfPages(await daySheetPdf(shown));
/** The text of a page without the spaces that the layout puts between columns. */
const squeezed = (text: string): string => text.replaceAll(/\s+/g, ' ');

describe('the day sheet', () => {
  it('is one page for eight drums, two for nine, and one that says so for none', async () => {
    const drums = (count: number): SheetDrum[] => Array.from({ length: count }, (_, index) => drum({ name: `Barrel ${index + 1}`, tasks: Array.from({ length: 9 }, (_each, task) => `Task ${task} of a very long name that nobody could read in a column so narrow`), alert: 'Something is far too warm and has been so for longer than anybody likes to read' }));
    const counts = await Promise.all([0, 1, 8, 9, 16, 17].map(async (count) => (await pagesOf(sheet(drums(count)))).length));
    expect(counts).toEqual([1, 1, 1, 2, 2, 3]);
    const [first, second] = await pagesOf(sheet(drums(9)));
    expect(first).toContain('page 1 of 2');
    expect(first).toContain('Barrel 8');
    expect(second).toContain('9 Barrel 9');
    expect((await pagesOf(sheet([])))[0]).toContain('No fruit in any drum.');
  });

  it('carries the newest seal of a day, in letters that can be compared by eye', async () => {
    const [page = ''] = await pagesOf(sheet([drum()], { seal: '2026-11-10 entry 260 7K4D 2MQX P9RT 0V3C' }));
    expect(squeezed(page)).toContain('Sealed so far, to compare later: 2026-11-10 entry 260 7K4D 2MQX P9RT 0V3C');
  });

  it('numbers every box to write into, by drum and box, each number once', async () => {
    const [page = ''] = await pagesOf(sheet(Array.from({ length: 8 }, () => drum())));
    const numbers = [...page.matchAll(/(?<![\d.])([1-8]\.[1-8]) [a-zA-Z]/g)].map(([, number]) => number ?? '');
    expect(numbers.toSorted()).toEqual(Array.from({ length: 64 }, (_, index) => `${Math.floor(index / 8) + 1}.${(index % 8) + 1}`));
  });

  it('tells name, lot, stage, what to expect, what to do and what is wrong, as text that can be searched', async () => {
    const [page = ''] = await pagesOf(sheet([drum({ name: 'Το βαρέλι', tasks: ['! Change the brine: 25 L, 2.3 kg salt', 'Taste'], alert: 'Brine is too warm.' })], { elsewhere: ['Review the record: lot HO26-B3'] }));
    for (const text of ['Home: Thursday, 12 November 2026', 'printed 2026-11-12 07:45', '1 Το βαρέλι', 'HO26-AW: leach, day 11', 'slit, changed brine', 'Brine 17.4 °C, at 09:17', '! Change the brine: 25 L, 2.3 kg salt', '! Brine is too warm.', 'Not in a drum: Review the record: lot HO26-B3']) expect(squeezed(page)).toContain(text);
    expect((await pagesOf(sheet([drum({ tasks: [] })])))[0]).toContain('Nothing is due.');
    expect((await pagesOf(sheet([drum({ tasks: ['a', 'b', 'c', 'd', 'e', 'f', 'g'] })])))[0]).toContain('and 2 more on the screen');
  });

  it('is a PDF with a title that a window shows', async () => {
    const file = (await daySheetPdf(sheet([drum()]))).toString('latin1');
    expect(file).toContain('(Day sheet, Home, 2026-11-12)');
    expect(file).toContain('/DisplayDocTitle true');
    expect(file.startsWith('%PDF-')).toBe(true);
  });
});

describe('GET /api/papers/day-sheet.pdf', () => {
  let harness: ApiHarness;
  afterEach(() => harness.close());
  const get = async (query = ''): Promise<{ readonly headers: Headers; readonly page: string }> => {
    const owner = await harness.as('owner');
    const response = await fetch(`${harness.url}/api/papers/day-sheet.pdf${query}`, { headers: { cookie: owner.cookie ?? '' } });
    expect(response.status).toBe(200);
    const pages = pdfPages(new Uint8Array(await response.arrayBuffer()));
    expect(pages).toHaveLength(1);
    return { headers: response.headers, page: squeezed(pages[0] ?? '') };
  };

  it('shows the shed of today: what is due, what is known, what is expected', async () => {
    harness = await openApiHarness({ zone: 'Europe/Athens' });
    const lot = await openShed(harness);
    const owner = await harness.as('owner');
    await owner.call('addEntry', { params: { lot }, body: { kind: 'measured', quantity: 'ph', value: 4.85, at: toRfc3339(harnessStart - dayMs) } });
    const { headers, page } = await get();
    expect(headers.get('content-type')).toBe('application/pdf');
    expect(headers.get('content-disposition')).toBe('inline; filename="day-sheet-2026-10-03.pdf"');
    for (const text of ['Home: Saturday, 3 October 2026', '1 Barrel 1', `${lot}: leach, day 11`, 'slit, changed brine', 'Brine 19.0 °C, at 15:00', 'pH 4.85, yesterday', '! Change the brine: 27 L, 2.7 kg salt', '! Look: all under brine?', 'Sweet ']) expect(page).toContain(text);
    // 27 L at 100 g/L on 16.2 L of flesh water go to 62.5 g/L; ten days at 18 °C in slit fruit are enough.
    expect(page).toMatch(/Salt about 6[2-7] g\/L/);
    expect(page).not.toContain('Taste about 10 of 10');
    expect(page).toMatch(/Taste about [3-9] of 10/);
  });

  it('of a day to come has what is due by then, and the day of the cure of then', async () => {
    harness = await openApiHarness();
    const lot = await openShed(harness);
    await (await harness.as('owner')).call('addEntry', { params: { lot }, body: { kind: 'brine-changed', at: toRfc3339(harnessStart), brineL: 27, saltGPerL: 100 } });
    expect((await get('?date=2026-10-04')).page).not.toContain('Change the brine');
    const { page } = await get('?date=2026-10-05');
    expect(page).toContain('Monday, 5 October 2026');
    expect(page).toContain('Change the brine: 27 L');
    expect(page).toContain('day 13');
  });

  it('is for today and two weeks ahead, for whoever works in the shed or looks at its wall', async () => {
    harness = await openApiHarness();
    const owner = await harness.as('owner');
    for (const query of ['?date=2026-10-02', '?date=2026-10-18', '?date=tomorrow', '?date=2026-02-30', '?day=2026-10-03']) expectProblem(await owner.fetch(`/api/papers/day-sheet.pdf${query}`), 'bad-query');
    expectProblem(await harness.stranger().fetch('/api/papers/day-sheet.pdf'), 'not-signed-in');
    expectProblem(await (await harness.as('inspector')).fetch('/api/papers/day-sheet.pdf'), 'not-allowed');
    expect((await (await harness.as('wall')).fetch('/api/papers/day-sheet.pdf')).status).toBe(200);
    expect((await get()).page).toContain('No fruit in any drum.');
  });
});
