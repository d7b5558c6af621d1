import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { shortCode, type SealedRecord } from '#contract';
import { expectProblem, openApiHarness, openShed, type ApiHarness } from '../helpers/api-harness.ts';
import { secondCanonical } from '../helpers/jcs.ts';
import { makeSiteKey, storyOfLot } from '../helpers/lot-shed.ts';
import { pdfPages } from '../helpers/pdf.ts';
import { systemPart } from '../helpers/system-parts.ts';

/** The papers of a record as another program reads them. */
let harness: ApiHarness;
let lot: string;
let cookie: string;

beforeAll(async () => {
  harness = await openApiHarness({ zone: 'Europe/Athens' });
  makeSiteKey(harness);
  lot = await storyOfLot(harness);
  cookie = (await harness.as('owner')).cookie ?? '';
});
afterAll(() => harness.close());

const paper = (form: string, query = ''): Promise<Response> => fetch(`${harness.url}/api/records/${lot}.${form}${query}`, { headers: { cookie } });
const bytesOf = async (answer: Promise<Response>): Promise<Buffer> => Buffer.from(await (await answer).arrayBuffer());
const squeezed = (text: string): string => text.replaceAll(/\s+/g, ' ');

/** What 21 CFR 114.100 and 117.305 ask of a record, and what an inspector looks for first. */
describe('the paper', () => {
  it('answers on page one which lot, whose limits, inside or not, what is missing and where the jars are', async () => {
    const [first = ''] = pdfPages(await bytesOf(paper('pdf')));
    const page = squeezed(first);
    for (const text of [
      `Lot ${lot}`, 'RELEASED since 2026-10-08', 'by Maria', 'Κορωνέικη', 'pH of packed jars at most 4.30 (CXS 66-1981) 4.08 ± 0.13 2 - inside', 'drum temperature at most 25.0 °C (77 °F)', 'OUTSIDE', '26.9 ± 0.5 °C',
      'no brine temperature from the probe from 2026-09-27', '(31.2 h)', '48 filled = 31 gone out + 17 in store', '1 of 6 values not usable as evidence: meter not calibrated that day', 'Class: not decided', 'Reviewed by',
      'This record shows what was measured and done. It is not an approval.',
    ]) expect(page).toContain(text);
  });

  it('never claims what nobody can', async () => {
    const text = pdfPages(await bytesOf(paper('pdf'))).join(' ').toLowerCase();
    expect(text).not.toMatch(/\b(safe|approved|compliant|certified|guaranteed)\b/);
  });

  it('carries lot, time, page x of y and the check code of one record on every page', async () => {
    const pages = pdfPages(await bytesOf(paper('pdf')));
    expect(pages.length).toBeGreaterThan(2);
    const codes = pages.map((page, index) => {
      expect(squeezed(page)).toContain(`Lot ${lot} printed 2026-10-09 15:00 (UTC+03:00) page ${index + 1} of ${pages.length}`);
      return /check ([0-9A-Z]{4}(?: [0-9A-Z]{4}){3})/.exec(page)?.[1];
    });
    expect(new Set(codes).size).toBe(1);
    expect(codes[0]).toBeDefined();
  });

  it('holds the acts with what was corrected and written late, the calibrations of each day, and the hashes', async () => {
    const text = squeezed(pdfPages(await bytesOf(paper('pdf'))).join(' '));
    for (const part of ['LATE; corrected by', 'corrects', 'per cent written for g/L', 'slope 98.4', 'u, no: meter not calibrated that day', '2026-09-28 not measured not measured not measured 0 0.0 %', 'SHA-256, first half', 'Saturday market', 'No day of this lot is sealed yet']) expect(text).toContain(part);
  });

  it('has a title, bookmarks, real text, and the signed record as an attachment; A4 or Letter', async () => {
    const file = await bytesOf(paper('pdf'));
    const raw = file.toString('latin1');
    expect(raw).toContain('/Outlines');
    expect(raw).toContain('/EmbeddedFile');
    expect(raw).toMatch(/\/MediaBox \[0 0 595\.28 841\.89\]/);
    expect((await bytesOf(paper('pdf', '?size=letter'))).toString('latin1')).toMatch(/\/MediaBox \[0 0 612 792\]/);
    expectProblem(await (await harness.as('owner')).fetch(`/api/records/${lot}.pdf?size=a3`), 'bad-query');
  });

  it('carries the record it was printed from: its check code is the digest of what is attached', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'brineward-paper-'));
    const file = await bytesOf(paper('pdf'));
    writeFileSync(join(folder, 'record.pdf'), file);
    const { status } = spawnSync(systemPart('pdfdetach'), ['-save', '1', '-o', join(folder, 'record.json'), join(folder, 'record.pdf')]);
    expect(status).toBe(0);
    const attached = readFileSync(join(folder, 'record.json'), 'utf8');
    rmSync(folder, { recursive: true });
    expect(attached).toBe(await (await paper('json')).text());
    const digest = createHash('sha256').update(secondCanonical((JSON.parse(attached) as SealedRecord).record)).digest('hex');
    expect(pdfPages(file)[0]).toContain(`check ${shortCode(digest)}`);
  });

  it('is one page one for a lot of which nothing is known yet, and says so', async () => {
    const empty = await openApiHarness();
    makeSiteKey(empty);
    const other = await openShed(empty);
    const [first = ''] = pdfPages(await bytesOf(fetch(`${empty.url}/api/records/${other}.pdf`, { headers: { cookie: (await empty.as('owner')).cookie ?? '' } })));
    for (const text of ['IN DRUM', 'not in jars', 'pH not measured', 'page 1 of', 'This record shows what was measured and done']) expect(squeezed(first)).toContain(text);
    await empty.close();
  });
});

describe('the table', () => {
  it('holds every measurement and act in one row each, with units and marks', async () => {
    const answer = await paper('csv');
    expect(answer.headers.get('content-disposition')).toBe(`attachment; filename="record-${lot}.csv"`);
    const [head = '', ...rows] = (await answer.text()).trimEnd().split('\r\n');
    const columns = head.split(',');
    const record = ((await (await paper('json')).json()) as SealedRecord).record;
    const count = (kind: string): number => rows.filter((row) => row.startsWith(`${kind},`)).length;
    expect(count('act')).toBe(record.acts.length);
    expect(count('measured')).toBe(record.byHand.length);
    expect(count('day')).toBe(record.watched.flatMap(({ days }) => days).length);
    expect(count('limit')).toBe(record.limits.length);
    const unusable = rows.find((row) => row.startsWith('measured,') && row.includes('not calibrated'))?.split(',') ?? [];
    expect([unusable[columns.indexOf('value')], unusable[columns.indexOf('unit')], unusable[columns.indexOf('mark')]]).toEqual(['4.1', 'pH', 'u']);
    expect(rows.find((row) => row.includes('struck'))).toContain('struck LATE');
    // A note with quotes and a comma stays one field (RFC 4180).
    expect(rows.find((row) => row.includes('cloudy'))).toContain('""clear"" after & good');
  });
});

describe('the page that checks itself', () => {
  it('is told to be missing where the dashboard was not built, and nothing else is lost by it', async () => {
    expectProblem(await (await harness.as('owner')).fetch(`/api/records/${lot}.html`), 'not-ready');
    expect(harness.faults.splice(0)).toHaveLength(1);
  });
});
