import { beforeEach, describe, expect, it } from 'vitest';
import { tasksOf } from '#domain/cure/tasks.ts';
import { dayMs, hourMs, toRfc3339 } from '#domain/units/time.ts';
import { createShedBook, openDrum, type ShedBook } from '../../helpers/shed-book.ts';

const zone = 'Europe/Athens';
const start = Date.parse('2026-10-03T06:00:00Z');
const later = start + 3 * dayMs;

let book: ShedBook;
let lot: string;
beforeEach(() => {
  book = createShedBook();
  lot = openDrum(book, start);
});

const at = (time: number) => ({ lot, at: toRfc3339(time) });
const open = (kind: string, now = later + hourMs) => tasksOf(book.shed, now, zone).filter((task) => task.kind === kind);

// Common practice, no source: film is skimmed when it is seen, fruit in the air covered at once, dry salt stirred up the day after.
describe('what a sign or an act asks for', () => {
  it('is skimming after film, once, until it was skimmed or the brine changed', () => {
    book.write('observed', { ...at(later), sign: 'film' }, later);
    expect(open('skim')).toMatchObject([{ lot, dueAt: later, overdue: false }]);
    book.write('skimmed', at(later + hourMs), later + hourMs);
    expect(open('skim', later + 2 * hourMs)).toEqual([]);
    book.write('observed', { ...at(later + dayMs), sign: 'Film' }, later + dayMs);
    expect(open('skim', later + 2 * dayMs)).toHaveLength(1);
  });

  it('is brine of the same strength after a dry top', () => {
    book.write('observed', { ...at(later), sign: 'dry-top' }, later);
    expect(open('top-up')).toHaveLength(1);
    expect(open('top-up')[0]?.text).toContain('never with water');
    book.write('brine-topped-up', { ...at(later + hourMs), brineL: 1, saltGPerL: 100 }, later + hourMs);
    expect(open('top-up', later + 2 * hourMs)).toEqual([]);
  });

  it('is stirring on the morning after salt went in dry, until it is done or left out', () => {
    book.write('salt-added', { ...at(later), saltG: 500 }, later);
    const [stir] = open('stir');
    expect(stir?.dueAt).toBe(Date.parse('2026-10-07T05:00:00Z'));
    book.write('task-done', { task: stir?.id ?? '', entry: null }, later + dayMs);
    expect(open('stir', later + 2 * dayMs)).toEqual([]);
  });

  it('is stirring until hands have stirred: letting gas out is no stirring', () => {
    book.write('salt-added', { ...at(later), saltG: 500 }, later);
    book.write('handled', { ...at(later + hourMs), what: 'vented' }, later + hourMs);
    expect(open('stir', later + 2 * hourMs)).toHaveLength(1);
    book.write('handled', { ...at(later + 2 * hourMs), what: 'stirred' }, later + 2 * hourMs);
    expect(open('stir', later + dayMs)).toEqual([]);
  });

  it('is a look after a week, unless hands were in the drum', () => {
    const nextLook = () => tasksOf(book.shed, later + hourMs, zone).find(({ kind }) => kind === 'look')?.dueAt ?? 0;
    const before = nextLook();
    book.write('handled', { ...at(later), what: 'cooled', bottles: 2 }, later);
    expect(nextLook()).toBe(before);
    book.write('handled', { ...at(later), what: 'pressed-under' }, later);
    expect(nextLook()).toBeGreaterThan(before);
  });

  it('is nothing for a sign that asks for nothing, and nothing for one taken back', () => {
    book.write('observed', { ...at(later), sign: 'white-sediment' }, later);
    const film = book.write('observed', { ...at(later), sign: 'film' }, later);
    book.write('corrected', { entry: film, reason: 'it was oil', replacement: null }, later);
    expect([...open('skim'), ...open('top-up'), ...open('stir')]).toEqual([]);
  });

  it('is a label on every jar, the morning after they were filled', () => {
    book.write('jarred', { ...at(later), jars: 60, jarMl: 720, brine: 'fresh, 8 %', ingredients: ['olives', 'water', 'salt'] }, later);
    const [label] = open('print-labels');
    expect(label).toMatchObject({ lot, dueAt: Date.parse('2026-10-07T05:00:00Z') });
    book.write('task-done', { task: label?.id ?? '', entry: null }, later + dayMs);
    expect(open('print-labels', later + 9 * dayMs)).toEqual([]);
  });
});
