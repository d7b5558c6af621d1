import { describe, expect, it } from 'vitest';
import { findQuestions, type WatchedDrum } from '#domain/detect/find-questions.ts';
import { isAsked, openQuestions } from '#domain/detect/open-questions.ts';
import type { AskedQuestion } from '#domain/detect/question.ts';
import { questionText } from '#domain/detect/question-text.ts';
import { assumedResponse } from '#domain/heat/drum-response.ts';
import { dayMs, hourMs, minuteMs, toRfc3339 } from '#domain/units/time.ts';
import { createShedBook, openDrum, type ShedBook } from '../../helpers/shed-book.ts';
import { drumOfMany, runTwoNodeDrum, type TwoNodeDrum } from '../../helpers/two-node-drum.ts';

const start = Date.UTC(2026, 8, 1);
const days = 5;
const now = start + days * dayMs;
const at = now - 8 * hourMs;
const early = [start + dayMs, start + 2 * dayMs];
const plain: TwoNodeDrum = { ...drumOfMany(4, start, days), meanC: 20, swingC: 6, weatherSdC: 0.4, noiseC: 0.05, timeConstantHours: 10 };

/** Two drums; the first was changed twice with cool brine, written down and seen. */
const shed = (): ShedBook => {
  const book = createShedBook();
  openDrum(book, start - dayMs, { style: 'changed-brine' });
  openDrum(book, start - dayMs, { style: 'changed-brine' }, 'barrel-2', 'probe-2');
  for (const time of early) book.write('brine-changed', { lot: 'barrel-1-a', at: toRfc3339(time), brineL: 25, saltGPerL: 80 }, time);
  return book;
};
const watched = (book: ShedBook, changes: Readonly<Record<string, readonly number[]>>): WatchedDrum[] =>
  [...book.shed.batches.values()].map((batch) => {
    const poured = [...(batch.drum === 'barrel-1' ? early : []), ...(changes[batch.drum] ?? [])];
    return { batch, trace: { ...runTwoNodeDrum({ ...plain, seed: batch.drum.length, changes: poured.map((time) => ({ at: time, differenceC: -5 })) }), response: assumedResponse({ volumeL: 60, insulated: false }) } };
  });
const asked = (question: ReturnType<typeof findQuestions>[number]): AskedQuestion => ({ ...question, askedAt: now, answer: null });

describe('what the readings make one ask', { timeout: 60_000 }, () => {
  it('asks whether a change without a step belongs to the drum that did step, and not twice about that step', () => {
    const book = shed();
    const entry = book.write('brine-changed', { lot: 'barrel-1-a', at: toRfc3339(at), brineL: 25, saltGPerL: 80 }, at);
    const found = findQuestions(watched(book, { 'barrel-2': [at] }), now);
    expect(found).toMatchObject([{ kind: 'right-drum', drum: 'barrel-1', entry, otherDrum: 'barrel-2' }, { kind: 'unlogged-change', drum: 'barrel-2' }]);
    const [question] = found;
    expect(question === undefined ? '' : questionText(question, (id) => id, now, 'UTC').because).toContain('barrel-2 did at that time');
  });

  it('asks nothing of a change that shows where it is written down', () => {
    const book = shed();
    book.write('brine-changed', { lot: 'barrel-1-a', at: toRfc3339(at), brineL: 25, saltGPerL: 80 }, at);
    expect(findQuestions(watched(book, { 'barrel-1': [at] }), now)).toEqual([]);
  });

  it('waits three hours, until the mixing has shown its shape', () => {
    expect(findQuestions(watched(shed(), { 'barrel-2': [now - 2 * hourMs] }), now)).toEqual([]);
  });

  it('is asked once, though the moment is found a little earlier or later', () => {
    const [question] = findQuestions(watched(shed(), { 'barrel-2': [at] }), now);
    expect(question).toMatchObject({ kind: 'unlogged-change', drum: 'barrel-2', lot: 'barrel-2-a' });
    if (question === undefined) return;
    expect(isAsked([asked(question)], { ...question, id: 'another', at: question.at + 20 * minuteMs })).toBe(true);
    expect(isAsked([asked(question)], { ...question, at: question.at + 12 * hourMs })).toBe(false);
    expect(isAsked([{ ...asked(question), drum: 'barrel-1' }], question)).toBe(false);
  });

  it('is not asked where somebody has laid ice in: that makes a step too', () => {
    const book = shed();
    expect(findQuestions(watched(book, { 'barrel-2': [at] }), now)).toHaveLength(1);
    book.write('handled', { lot: 'barrel-2-a', at: toRfc3339(at + hourMs), what: 'vented' }, now);
    expect(findQuestions(watched(book, { 'barrel-2': [at] }), now)).toHaveLength(1);
    book.write('handled', { lot: 'barrel-2-a', at: toRfc3339(at + hourMs), what: 'cooled', bottles: 2 }, now);
    expect(findQuestions(watched(book, { 'barrel-2': [at] }), now)).toEqual([]);
  });

  it('falls away when the change is written down after all, and when the lot has gone', () => {
    const book = shed();
    const [question] = findQuestions(watched(book, { 'barrel-2': [at] }), now);
    if (question === undefined) throw new Error('nothing was asked');
    book.write('question-asked', { ...question, at: toRfc3339(question.at) }, now);
    expect(openQuestions(book.shed, now)).toHaveLength(1);
    expect(openQuestions(book.shed, now + 8 * dayMs)).toEqual([]);
    const later = createShedBook(book.entries);
    later.write('brine-changed', { lot: 'barrel-2-a', at: toRfc3339(at + hourMs), brineL: 25, saltGPerL: 80 }, now);
    expect(openQuestions(later.shed, now)).toEqual([]);
    book.write('jarred', { lot: 'barrel-2-a', at: toRfc3339(now), jars: 40, jarMl: 720, brine: 'fresh', ingredients: [] }, now);
    expect(openQuestions(book.shed, now)).toEqual([]);
  });
});
