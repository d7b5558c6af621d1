import { expect, it } from 'vitest';
import { benchShown, keepNotes, newNotes, readNotes, type BenchNotes } from '../../dashboard/state/bench.ts';

/** The worked example of the rule: 335 g jars, 14 mL → 4.20, 21 mL → 4.04, target 4.1: 18.4 mL a jar, 3.1 L for 56.6 kg (straight line between the two). */
const day7 = { '1/7': '5.4', '2/7': '4.6', '3/7': '4.20', '4/7': '4,04', '5/7': '3.9' };
const notes: BenchNotes = { ...newNotes, batchKg: '56.6', ph: day7 };

it('gives the dose for the batch by day 7, between two jars that were tried', () => {
  const { result, noResult } = benchShown(notes);
  expect(noResult).toBeNull();
  expect(result).toContain('18.4 mL a jar, between 14 mL (pH 4.20) and 21 mL (pH 4.04)');
  expect(result).toContain('3.10 L');
});

it('does not extrapolate, and says what is missing', () => {
  expect(benchShown({ ...notes, targetPh: '3.8' })).toMatchObject({ result: null, noResult: expect.stringContaining('not reached') as string });
  expect(benchShown({ ...notes, ph: { ...day7, '3/7': '' } })).toMatchObject({ result: null, noResult: expect.stringContaining('all 5 jars') as string });
  expect(benchShown({ ...notes, ph: { '1/3': '5.4' } }).noResult).toContain('day 7');
  expect(benchShown({ ...notes, batchKg: '' }).noResult).toContain('kg');
});

it('warns by how much a jar still moved since the reading before', () => {
  expect(benchShown({ ...notes, ph: { ...day7, '4/3': '4.34' } }).stillMoving).toBeCloseTo(0.3, 9);
});

it('refuses a jar that cannot be, without losing what was typed', () => {
  const shown = benchShown({ ...notes, fruitG: 'many' });
  expect([shown.plan, shown.result]).toEqual([null, null]);
  expect(shown.planProblem).toContain('fruitG');
});

it('is kept on the device from one day to the next, and takes nothing from a store that holds something else', () => {
  const kept = new Map<string, string>();
  const storage = { getItem: (name: string) => kept.get(name) ?? null, setItem: (name: string, text: string) => void kept.set(name, text) };
  expect(keepNotes(storage, notes)).toBe(true);
  expect(readNotes(storage)).toEqual(notes);
  for (const text of ['{"ph":3,"fruitG":12}', 'null', '[', '7']) {
    kept.set([...kept.keys()][0] ?? '', text);
    expect(readNotes(storage)).toEqual(newNotes);
  }
});
