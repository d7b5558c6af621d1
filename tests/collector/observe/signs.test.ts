import { describe, expect, test } from 'vitest';
import { signCaution } from '#domain/observe/sign.ts';
import { opensHold, signOf, signs } from '#domain/observe/signs.ts';

const words = (id: string): string => {
  const sign = signOf(id);
  if (sign === null) throw new Error(`no sign ${id}`);
  return [sign.mayBe, sign.check, sign.act, sign.discardWhen ?? ''].join(' | ');
};

describe('what people see', () => {
  test('each sign has its own slug', () => {
    expect(new Set(signs.map(({ id }) => id)).size).toBe(signs.length);
    for (const { id } of signs) expect(id).toMatch(/^[a-z]+(?:-[a-z]+)*$/);
  });

  test('is found by its id, however it is typed; words of one’s own are no sign', () => {
    expect(signOf(' Ropy Brine ')?.id).toBe('ropy-brine');
    expect(signOf('film')?.severity).toBe(2);
    expect([signOf('αφρός 🫒'), signOf(''), signOf('constructor')]).toEqual([null, null, null]);
  });

  // Severity 3 and 4 of the conservative reading of the trade's pages; what is published is named at each sign.
  test('a hold is opened by what may harm, judged by the worst it may be', () => {
    expect(signs.filter(opensHold).map(({ id }) => id).toSorted()).toEqual([
      'bad-egg', 'butyric', 'chemical', 'cloudy-jar', 'domed-lid', 'flat', 'foam', 'late-float', 'metal', 'mould', 'mould-in-jar', 'musty', 'ph-not-falling', 'ph-rising', 'putrid',
      'rancid-oil', 'ropy-brine', 'rusty-lid', 'soft', 'solvent',
    ]);
    expect(opensHold({ severity: 2, atWorst: 3 })).toBe(true);
    expect(opensHold({ severity: 2, atWorst: 2 })).toBe(false);
  });

  test('what opens a hold says so, or says to discard; what does not never discards by itself without a reason', () => {
    for (const sign of signs.filter(opensHold)) expect(sign.act, sign.id).toMatch(/hold|discard/);
    for (const sign of signs.filter(({ severity }) => severity === 4)) expect(sign.discardWhen, sign.id).toMatch(/always/);
    for (const sign of signs) expect(sign.atWorst, sign.id).toBeGreaterThanOrEqual(sign.severity);
  });

  test('nobody is told to taste, and nothing is called safe', () => {
    const all = [signCaution, ...signs.flatMap(({ see, mayBe, check, act, discardWhen }) => [see, mayBe, check, act, discardWhen ?? ''])].join('\n');
    expect(all).not.toMatch(/\b(?:safe|harmless|edible|good to eat|OK)\b/i);
    // In no column is tasting named, but to say that it is not done: with those words taken out nothing of it is left.
    const forbidding = /(?:no|nothing to|never|do not) tast(?:e|ing)/gi;
    // Bitter fruit is met by tasting, and looked up by the tastings there are.
    for (const { id, ...sign } of signs.filter((each) => each.id !== 'still-bitter')) {
      const told = [sign.mayBe, sign.check, sign.act, sign.discardWhen ?? ''].map((each) => each.replaceAll(forbidding, ''));
      expect(told.filter((each) => /\b(?:tast(?:e|es|ed|ing)|bite|chew|swallow|try one)\b/i.test(each)), id).toEqual([]);
    }
    expect(words('ice')).toContain('nothing to taste');
    // What a careless line would read like is found.
    expect('firm? taste one from the middle'.replaceAll(forbidding, '')).toMatch(/\btaste\b/);
    expect(signCaution).toContain('never taste');
  });

  test('known terms lead to the usual names: rotten is zapatera, rancid butter is butyric (Lanza 2013; textbook of fermented foods)', () => {
    expect(words('putrid')).toContain('zapatera');
    expect(words('butyric')).toContain('butyric');
    expect(words('film')).toContain('yeast');
    expect(words('ph-rising')).toContain('propionic');
  });
});
