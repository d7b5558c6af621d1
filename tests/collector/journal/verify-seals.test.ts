import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import type { DaySeal } from '#domain/journal/day-seal.ts';
import { byCollector, type Draft } from '#domain/journal/entry.ts';
import { emptyShed, project } from '#domain/journal/project.ts';
import type { Shed } from '#domain/journal/shed.ts';
import type { BlockDigest } from '#domain/reading/sealing.ts';
import type { Span } from '#domain/reading/store.ts';
import { dayMs, toRfc3339 } from '#domain/units/time.ts';
import { canonical, openBook, type Book } from '../../../collector/journal/book.ts';
import { openSiteKey, type SiteKey } from '../../../collector/journal/site-key.ts';
import { verifySeals } from '../../../collector/journal/verify-seals.ts';
import { createSealer, type Sealer } from '../../../collector/sealing.ts';
import { valueOf } from '../../helpers/value-of.ts';

const undo: (() => void)[] = [];
afterEach(() => {
  for (const step of undo.splice(0).reverse()) step();
});

const start = Date.UTC(2026, 4, 3);
const late = start + 5 * dayMs;
const digest = (day: Span, part: number, series: BlockDigest['series'] = 'probe-1/temperature'): BlockDigest => ({ ...day, series, part, count: 10, sha256: 'ab'.repeat(32) });

/** A store that is told what is in it. */
const paperStore = () => {
  let unsealed = [start + 1, start + dayMs + 1];
  const blocks: BlockDigest[] = [];
  return {
    arrive: (...times: number[]) => (unsealed = [...unsealed, ...times].toSorted((one, other) => one - other)),
    blocks,
    store: {
      firstUnsealed: async (from: number) => unsealed.find((at) => at >= from) ?? null,
      digests: async (day: Span) => blocks.filter(({ from, to }) => from === day.from && to === day.to),
      seal: async (day: Span) => {
        const inDay = unsealed.filter((at) => at >= day.from && at < day.to);
        unsealed = unsealed.filter((at) => !inDay.includes(at));
        const made = inDay.length === 0 ? [] : [digest(day, blocks.filter(({ from }) => from === day.from).length)];
        blocks.push(...made);
        return made;
      },
    },
  };
};

const site = (): { readonly book: Book; readonly key: SiteKey; readonly sealer: Sealer; readonly paper: ReturnType<typeof paperStore>; readonly shed: () => Shed; readonly write: (draft: Draft, at?: number) => void } => {
  const folder = mkdtempSync(join(tmpdir(), 'seals-'));
  const book = valueOf(openBook(join(folder, 'book.db')));
  undo.push(() => {
    book.close();
    rmSync(folder, { recursive: true });
  });
  const key = valueOf(openSiteKey(folder, true));
  const paper = paperStore();
  let shed = emptyShed;
  const write = (draft: Draft, at = late): void => {
    for (const entry of book.append([draft], at)) shed = project(shed, entry);
  };
  write({ who: byCollector, kind: 'key-made', body: { publicKey: key.publicKey } });
  const head = (): DaySeal['head'] => {
    const [last] = book.read(book.lastSequence() - 1, 1);
    return { sequence: last?.sequence ?? 0, hash: last?.hash ?? '' };
  };
  const sealOf = (entry: number): DaySeal => {
    const [found] = book.read(entry - 1, 1);
    if (found?.kind !== 'day-sealed') throw new Error(`entry ${entry} is no seal`);
    return found.body;
  };
  const sealer = createSealer({ store: paper.store, zone: 'UTC', key, shed: () => shed, firstReading: async () => start + 1, sealOf, head, append: write });
  return { book, key, sealer, paper, shed: () => shed, write };
};

describe('sealing', () => {
  it('names the blocks of each finished day in the journal, once, and in order', async () => {
    const { book, sealer, shed, paper } = site();
    expect(await sealer.round(start + dayMs)).toBeNull();
    expect([await sealer.round(late), await sealer.round(late), await sealer.round(late)]).toEqual(['2026-05-03', '2026-05-04', null]);
    expect(shed().seals.days.map(({ day }) => day)).toEqual(['2026-05-03', '2026-05-04']);
    expect(verifySeals(book)).toMatchObject({ days: 2, fault: null, blocks: paper.blocks, coversTo: book.lastSequence() });
  });

  it('seals what came late for a sealed day in an amendment of its own, not before half a day has passed', async () => {
    const { book, sealer, paper } = site();
    await sealer.round(late);
    await sealer.round(late);
    paper.arrive(start + 7);
    expect(await sealer.round(late + dayMs / 4)).toBeNull();
    expect(await sealer.round(late + dayMs)).toBe('2026-05-03');
    expect(book.read(book.lastSequence() - 1, 1)[0]?.body).toMatchObject({ amends: true, day: '2026-05-03', blocks: [{ part: 1 }] });
  });

  it.each([[0], [1], [2]])('names the blocks that a stop between block and seal left behind, after %i rounds', async (rounds) => {
    const { book, sealer, paper, shed } = site();
    for (let round = 0; round < rounds; round += 1) await sealer.round(late);
    const day = { from: start + rounds * dayMs, to: start + (rounds + 1) * dayMs };
    paper.arrive(day.from + 5, day.from + 6);
    await paper.store.seal(day);
    // An amendment whose series comes before the others by name.
    if (rounds > 0) paper.blocks.push(digest({ from: start, to: start + dayMs }, 0, 'a/temperature'));
    expect(await sealer.recover()).toBe(rounds > 0 ? 2 : 1);
    expect(await sealer.recover()).toBe(0);
    const named = verifySeals(book).blocks.map(({ series, part, from }) => `${series} ${part} ${from}`);
    expect(named.toSorted()).toEqual(paper.blocks.map(({ series, part, from }) => `${series} ${part} ${from}`).toSorted());
    expect(shed().seals.days).toHaveLength(rounds + 1);
  });
});

describe('a seal', () => {
  const seal = ({ book, key }: ReturnType<typeof site>, change: Partial<DaySeal> = {}): DaySeal => ({
    day: '2026-05-03', from: toRfc3339(start), to: toRfc3339(start + dayMs), amends: false, blocks: [], head: { sequence: 1, hash: book.read(0, 1)[0]?.hash ?? '' }, publicKey: key.publicKey, ...change,
  });

  it.each([
    ['wrong-signature', (here: ReturnType<typeof site>) => ({ ...seal(here), signature: here.key.sign('something else') })],
    ['other-key', (here: ReturnType<typeof site>) => {
      const other = mkdtempSync(join(tmpdir(), 'other-'));
      undo.push(() => rmSync(other, { recursive: true }));
      const key = valueOf(openSiteKey(other, true));
      const forged = seal(here, { publicKey: key.publicKey });
      return { ...forged, signature: key.sign(canonical(forged)) };
    }],
    ['wrong-head', (here: ReturnType<typeof site>) => {
      const forged = seal(here, { head: { sequence: 1, hash: '00'.repeat(32) } });
      return { ...forged, signature: here.key.sign(canonical(forged)) };
    }],
    ['wrong-head', (here: ReturnType<typeof site>) => {
      const forged = seal(here, { head: { sequence: 99, hash: '00'.repeat(32) } });
      return { ...forged, signature: here.key.sign(canonical(forged)) };
    }],
  ] as const)('that is forged is found: %s', (what, forge) => {
    const one = site();
    one.write({ who: byCollector, kind: 'day-sealed', body: forge(one) });
    expect(verifySeals(one.book).fault).toEqual({ entry: 2, day: '2026-05-03', what });
  });
});
