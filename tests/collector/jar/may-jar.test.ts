import { describe, expect, test } from 'vitest';
import type { JarPlan } from '#domain/jar/may-jar.ts';
import { mayJar } from '#domain/jar/may-jar.ts';

const ph = (value: number, uncertainty = 0.12): JarPlan['ph'] => ({ value, uncertainty });

describe('may the jarring be written', () => {
  test('inside the limit with the uncertainty: yes, without a hold', () => {
    expect(mayJar({ ph: ph(4.1) })).toMatchObject({ may: true, opensHold: false, rule: { ph: 4.3, source: 'CXS 66-1981' } });
  });
  test('at 4.25 ± 0.12 it is not inside, though it reads below 4.3', () => {
    expect(mayJar({ ph: ph(4.25) })).toMatchObject({ may: false, code: 'ph-above-limit', rule: { ph: 4.3 }, instead: expect.arrayContaining(['plan-acid', 'record-hold']) as string[] });
    expect(mayJar({ ph: ph(4.25, 0.05) })).toMatchObject({ may: true });
  });
  test('unknown counts as above, and so does a number that is none', () => {
    expect(mayJar({ ph: null })).toMatchObject({ may: false, code: 'ph-unknown', instead: expect.arrayContaining(['measure-ph']) as string[] });
    expect(mayJar({ ph: ph(Number.NaN) })).toMatchObject({ may: false, code: 'ph-unknown' });
    expect(mayJar({ ph: ph(4, Number.POSITIVE_INFINITY) })).toMatchObject({ may: false });
  });
  test('acid named: yes, on hold until the packed jars are inside', () => {
    for (const given of [null, ph(5.4)]) expect(mayJar({ ph: given, acid: '20 mL of 5 % vinegar a jar' })).toMatchObject({ may: true, opensHold: true });
    expect(mayJar({ ph: null, acid: '0.5 % acetic' })).toMatchObject({ may: true });
  });
  test.each(['', '  ', 'none', 'No acid', '-', '0', 'not yet', 'n/a'])('"%s" is no acid', (acid) => {
    expect(mayJar({ ph: ph(5), acid })).toMatchObject({ may: false, code: 'ph-above-limit' });
  });
  test('a cold plan is 5 °C or less, and no plan with garlic, stuffing or oil', () => {
    expect(mayJar({ ph: null, coldC: 4 })).toMatchObject({ may: true, opensHold: true, rule: { ph: 4.6 } });
    expect(mayJar({ ph: null, coldC: 8 })).toMatchObject({ may: false, code: 'cold-plan-too-warm' });
    expect(mayJar({ ph: null, coldC: Number.NaN })).toMatchObject({ may: false, code: 'cold-plan-too-warm' });
    for (const ingredient of ['fresh garlic', 'olive oil', 'stuffed with almonds']) expect(mayJar({ ph: ph(4.5), coldC: 3, ingredients: ['olives', ingredient] })).toMatchObject({ may: false, code: 'cold-plan-needs-acid' });
    expect(mayJar({ ph: ph(4.5), coldC: 3, ingredients: ['olives', 'boiled water', 'oregano'] })).toMatchObject({ may: true });
    expect(mayJar({ ph: ph(4.5), coldC: 3, ingredients: ['garlic'], acid: 'vinegar' })).toMatchObject({ may: true });
  });
  test('a stricter limit of one’s own is the rule named', () => {
    const office = { id: 'office', ph: 4.1, rule: 'told by the local office', source: 'office' };
    expect(mayJar({ ph: ph(4.1), ownLimits: [office] })).toMatchObject({ may: false, rule: office });
  });
  test('no word approves', () => {
    for (const plan of [{ ph: ph(3.8) }, { ph: null }, { ph: null, acid: 'vinegar' }, { ph: null, coldC: 4 }]) expect(mayJar(plan).text).not.toMatch(/\b(?:safe|approved|compliant)\b/i);
  });
});
