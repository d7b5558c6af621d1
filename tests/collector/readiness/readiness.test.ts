import { describe, expect, it } from 'vitest';
import type { EntryBodies } from '#domain/journal/entry.ts';
import type { ReadinessFacts } from '#domain/readiness/finding.ts';
import { readinessOf, readinessWords, type CheckResult } from '#domain/readiness/readiness.ts';
import { dayMs, hourMs, toRfc3339 } from '#domain/units/time.ts';
import { createShedBook, openDrum, type ShedBook } from '../../helpers/shed-book.ts';

/**
 * Findings that inspectors commonly write up (FDA warning letter of 2015, FDA citations 2024 to 2025, 21 CFR 114 and 117, state reports), each
 * made to happen and made to go away. Thresholds are the site's settings; their defaults are assumptions.
 */
const start = Date.UTC(2026, 8, 1, 8);
const day = (days: number): number => start + days * dayMs;
const at = (days: number): string => toRfc3339(day(days));

const fresh = (batch: Partial<EntryBodies['batch-opened']> = {}): { book: ShedBook; lot: string } => {
  const book = createShedBook();
  return { book, lot: openDrum(book, start, batch) };
};
const check = (book: ShedBook, id: string, days: number, facts?: ReadinessFacts): CheckResult => {
  const found = readinessOf(book.shed, 'UTC', day(days), facts).find((each) => each.id === id);
  if (found === undefined) throw new Error(`there is no check ${id}`);
  return found;
};
const act = (book: ShedBook, kind: 'jarred' | 'jar-ph' | 'release' | 'distributed' | 'measured' | 'jars-noted', days: number, body: object): number => book.write(kind, { lot: 'barrel-1-a', at: at(days), ...body } as never, day(days));
const jarred = (book: ShedBook, days = 30, over: object = {}): number => act(book, 'jarred', days, { jars: 40, jarMl: 500, brine: 'b', ingredients: ['olives'], ...over });
const meter = (book: ShedBook, days: number, over: object = {}): number =>
  book.write('calibrated', { probe: 'meter-1', kind: 'ph', at: at(days), temperatureC: 25, points: [{ ph: 4.01, mv: 173.4 }, { ph: 4, mv: 174 }, { ph: 7, mv: 0 }], ...over }, day(days));
const jarPh = (book: ShedBook, days: number, jar: string, value = 4.05, instrument = 'meter-1'): number => act(book, 'jar-ph', days, { value, jar, instrument });
/** All the packed-jar rule asks for, from a day on. */
const proven = (book: ShedBook, days: number): void => {
  meter(book, days);
  jarPh(book, days + 0.1, '1');
  jarPh(book, days + 0.1, '2', 4.06);
  meter(book, days + 3);
  jarPh(book, days + 3.1, '1', 4.07);
};
const release = (book: ShedBook, days: number): number => act(book, 'release', days, { by: 'Maria' });

describe('packed jars', () => {
  it('R01 released without the packed-jar rule; whole fruit also needs a reading after 14 days', () => {
    const { book, lot } = fresh({ cut: 'whole' });
    jarred(book);
    release(book, 31);
    expect(check(book, 'R01', 32)).toMatchObject({ state: 'open', level: 'stop', findings: [{ lot, place: { screen: 'batch', id: lot } }] });
    proven(book, 32);
    expect(check(book, 'R01', 36).findings[0]?.text).toContain('Whole fruit');
    meter(book, 45);
    jarPh(book, 45.1, '1', 4.08);
    expect(check(book, 'R01', 46).state).toBe('nothing-open');
  });
  it('R03 a reading on a day without a calibration, and not one with', () => {
    const { book } = fresh();
    jarred(book);
    release(book, 31);
    proven(book, 32);
    expect(check(book, 'R03', 36).state).toBe('nothing-open');
    jarPh(book, 38, '1');
    expect(check(book, 'R03', 39)).toMatchObject({ state: 'open', findings: [{ text: '1 reading of packed jars without a good calibration of that day.' }] });
  });
  it('R05 whole tenths only, from three readings on; R25 five equal ones', () => {
    const { book } = fresh();
    jarred(book);
    for (const days of [31, 32]) jarPh(book, days, '1', 4.1);
    expect(check(book, 'R05', 40).state).toBe('nothing-open');
    jarPh(book, 33, '1', 4.1);
    expect([check(book, 'R05', 40).state, check(book, 'R25', 40).state]).toEqual(['open', 'nothing-open']);
    for (const days of [34, 35]) jarPh(book, days, '1', 4.1);
    expect(check(book, 'R25', 40).state).toBe('open');
    jarPh(book, 36, '1', 4.12);
    expect(check(book, 'R05', 40).state).toBe('nothing-open');
  });
  it('R06 strips only, above pH 4.0 (21 CFR 114.90)', () => {
    const { book } = fresh();
    jarred(book);
    release(book, 31);
    jarPh(book, 32, '1', 3.9, 'pH strip');
    expect(check(book, 'R06', 33).state).toBe('nothing-open');
    jarPh(book, 32, '2', 4.1, 'pH strip');
    expect(check(book, 'R06', 33).state).toBe('open');
    jarPh(book, 32, '2', 4.1);
    expect(check(book, 'R06', 33).state).toBe('nothing-open');
  });
  it('R07 evidence older than 90 days while jars are left', () => {
    const { book } = fresh();
    jarred(book);
    proven(book, 32);
    release(book, 36);
    expect(check(book, 'R07', 125).state).toBe('nothing-open');
    expect(check(book, 'R07', 126).state).toBe('open');
    act(book, 'distributed', 40, { to: 'market', jars: 40 });
    expect(check(book, 'R07', 126).state).toBe('nothing-open');
  });
});

describe('instruments', () => {
  it('R04 a buffer past its date on the day it was used; without any date it is not recorded', () => {
    const { book } = fresh();
    meter(book, 1);
    expect(check(book, 'R04', 2)).toMatchObject({ state: 'not-recorded', why: 'no calibration names its buffers with their dates' });
    const bottle = (expiresOn: string, openedOn: string) => ({ points: [{ ph: 4.01, mv: 173.4, bottle: { expiresOn, openedOn } }, { ph: 7, mv: 0 }] });
    meter(book, 2, bottle('2026-09-03', '2026-06-06'));
    expect(check(book, 'R04', 60).state).toBe('nothing-open');
    meter(book, 3, bottle('2026-09-03', '2026-09-01'));
    expect(check(book, 'R04', 60)).toMatchObject({ state: 'open', findings: [{ text: 'A buffer past its date was used on 2026-09-04.', place: { screen: 'instruments', id: 'meter-1' } }] });
  });
  it('R08 a thermometer that watches fruit without an ice point within a month', () => {
    const { book } = fresh();
    expect(check(book, 'R08', 1).state).toBe('open');
    book.write('calibrated', { probe: 'probe-1', kind: 'ice-point', at: at(1), readingC: 0.2, referenceC: 0 }, day(1));
    expect(check(book, 'R08', 32).state).toBe('nothing-open');
    expect(check(book, 'R08', 32.1).state).toBe('open');
    jarred(book, 33);
    expect(check(book, 'R08', 34).state).toBe('nothing-open');
  });
  it('R09 a failed check until each lot in doubt is decided', () => {
    const { book, lot } = fresh();
    meter(book, 1);
    act(book, 'measured', 1.1, { quantity: 'ph', value: 4.2, instrument: 'meter-1' });
    const failed = meter(book, 5, { points: [{ ph: 4.01, mv: 120 }, { ph: 7, mv: 0 }] });
    expect(check(book, 'R09', 6)).toMatchObject({ state: 'open', level: 'stop', findings: [{ lot }] });
    book.write('doubt-decided', { instrument: 'meter-1', check: failed, lot, decision: 'discarded', reason: 'r' }, day(6));
    expect(check(book, 'R09', 7).state).toBe('nothing-open');
  });
});

describe('deviations, gaps and people', () => {
  const alert = (book: ShedBook, rule: string, from: number, to: number | null): void => {
    const limit = { value: 30, unit: 'Cel', source: 's', side: 'high' } as const;
    book.write('alert-raised', { id: rule, rule, drum: 'barrel-1', lot: 'barrel-1-a', quantity: 'temperature', priority: rule.endsWith('danger') ? 'high' : 'low', since: at(from), at: at(from), value: 31, limit, text: 'Warm.', advice: 'a' }, day(from));
    if (to !== null) book.write('alert-returned', { id: rule, until: at(to), at: at(to), peak: 32 }, day(to));
  };
  it('R13 open: worth a look at first, a stop after seven days, or once jars have left', () => {
    const { book } = fresh();
    alert(book, 'ferment-temperature-danger', 2, 2.2);
    expect(check(book, 'R13', 8)).toMatchObject({ level: 'look', findings: [{ text: 'D-1 is open.', place: { screen: 'deviations', id: 'D-1' } }] });
    expect(check(book, 'R13', 9.1)).toMatchObject({ level: 'stop' });
    jarred(book, 4);
    act(book, 'distributed', 5, { to: 'x', jars: 1 });
    expect(check(book, 'R13', 6)).toMatchObject({ level: 'stop', findings: [{ text: 'D-1 is open, and jars of the lot have left.' }] });
    book.write('deviation-closed', { deviation: 'D-1', cause: 'c', action: 'a', disposition: 'destroyed', by: 'M' }, day(7));
    expect(check(book, 'R13', 20).state).toBe('nothing-open');
    expect(check(book, 'R14', 20).state).toBe('nothing-open');
  });
  it('R10 a change more than a day late; R12 a gap of more than 6 h, weightier beyond 24 h, unless measured by hand', () => {
    const { book } = fresh();
    alert(book, 'change-overdue', 2, 2.9);
    alert(book, 'temperature-silent', 2, 2.2);
    expect([check(book, 'R10', 9).state, check(book, 'R12', 9).state]).toEqual(['nothing-open', 'nothing-open']);
    alert(book, 'change-overdue', 4, 5.5);
    alert(book, 'temperature-silent', 4, 4.5);
    expect(check(book, 'R10', 9).findings).toMatchObject([{ text: 'A change of brine was 1.5 days late.' }]);
    expect(check(book, 'R12', 9)).toMatchObject({ level: 'look', findings: [{ text: 'No temperature for 12 h.' }] });
    alert(book, 'temperature-silent', 6, 7.5);
    expect(check(book, 'R12', 9)).toMatchObject({ level: 'fix' });
    act(book, 'measured', 6.5, { quantity: 'temperature', value: 18, instrument: 'thermo' });
    act(book, 'measured', 4.2, { quantity: 'temperature', value: 18, instrument: 'thermo' });
    expect(check(book, 'R12', 9).state).toBe('nothing-open');
  });
  it('R15 entries older than a week without a review; R26 measurements without an instrument', () => {
    const { book, lot } = fresh();
    const entry = act(book, 'measured', 1, { quantity: 'ph', value: 4.2 });
    expect(check(book, 'R15', 7.9).state).toBe('nothing-open');
    expect(check(book, 'R15', 8.1).findings).toMatchObject([{ lot, text: '1 entry older than 7 days without a review.' }]);
    expect(check(book, 'R26', 2).findings).toMatchObject([{ text: '1 measurement without an instrument.' }]);
    book.write('reviewed', { lot: 'other', until: entry, name: 'n' }, day(8));
    expect(check(book, 'R15', 8.1).state).toBe('open');
    book.write('reviewed', { lot, until: entry, name: 'n' }, day(8));
    expect(check(book, 'R15', 8.1).state).toBe('nothing-open');
  });
  it('R16 a limit that was changed and whose source was not', () => {
    const { book } = fresh();
    book.write('limit-set', { limit: 'ferment-temperature-high', drum: null, change: { high: 27 } }, day(1));
    expect(check(book, 'R16', 2).state).toBe('open');
    book.write('limit-set', { limit: 'ferment-temperature-high', drum: null, change: { source: 'our authority, letter 3' } }, day(2));
    expect(check(book, 'R16', 3).state).toBe('nothing-open');
  });
  it('R27 more than a tenth written a day late, unless it was noted on paper', () => {
    const { book, lot } = fresh();
    for (const days of [1, 2, 3, 4]) act(book, 'measured', days, { quantity: 'ph', value: 4.2 });
    const late = (over: object): number => book.write('measured', { lot, at: at(5), quantity: 'ph', value: 4.2, ...over }, day(5) + 25 * hourMs);
    late({ writtenAt: at(5) });
    expect(check(book, 'R27', 9).state).toBe('nothing-open');
    late({});
    expect(check(book, 'R27', 9).findings[0]?.text).toBe('1 of 6 entries were written more than a day later.');
  });
});

describe('where things came from and went', () => {
  it('R18, R19, R21, R24: class, exercise, sources and label of what is sold', () => {
    const { book } = fresh();
    expect(['R18', 'R19', 'R21', 'R24'].map((id) => check(book, id, 2).state)).toEqual(['nothing-open', 'nothing-open', 'nothing-open', 'nothing-open']);
    jarred(book);
    act(book, 'distributed', 31, { to: 'market', jars: 3 });
    expect(['R18', 'R19', 'R21', 'R24'].map((id) => check(book, id, 40).state)).toEqual(['open', 'open', 'open', 'open']);
    book.write('producer-set', {
      name: 'N', address: 'A', licence: 'L', product: 'Olives', formula: null, productClass: { word: 'fermented', by: 'M', on: '2026-04-03' }, bestBeforeMonths: 12, storage: null, afterOpening: null, origin: null, statement: null,
      webAddress: null, weights: [{ jarMl: 500, netG: 480, drainedG: 300 }], sheet: null,
    }, day(41));
    expect(['R18', 'R24'].map((id) => check(book, id, 42).state)).toEqual(['nothing-open', 'nothing-open']);
  });
  it('R22 more jars out than in, or fewer counted than should be here', () => {
    const { book } = fresh();
    jarred(book);
    act(book, 'jars-noted', 32, { what: 'counted', jars: 40 });
    expect(check(book, 'R22', 40).state).toBe('nothing-open');
    act(book, 'jars-noted', 33, { what: 'counted', jars: 38 });
    expect(check(book, 'R22', 40).findings[0]?.text).toBe('2 jars fewer were counted than should be here.');
    act(book, 'distributed', 34, { to: 'x', jars: 45 });
    expect(check(book, 'R22', 40).findings[0]?.text).toBe('5 more jars went out than were filled.');
  });
  it('R23 fruit that is not in the jars, or more of it than there was, beyond what the guesses are off by', () => {
    // By hand: 30 kg slit grow by 3 ± 2 % to 30.9 kg; root of the squares of 0.6, jars × 0.005 and 0.1 kg is what it may be off by.
    const weighed = (jars: number, over: object = {}): ShedBook => {
      const { book } = fresh();
      jarred(book, 30, { jars });
      book.write('producer-set', {
        name: null, address: null, licence: null, product: null, formula: null, productClass: null, bestBeforeMonths: null, storage: null, afterOpening: null, origin: null, statement: null, webAddress: null,
        weights: [{ jarMl: 500, netG: 480, drainedG: 300 }], sheet: null,
      }, day(31));
      if (Object.keys(over).length > 0) book.write('checks-set', { change: over }, day(31));
      return book;
    };
    expect(check(weighed(103), 'R23', 40).state).toBe('nothing-open');
    // 97 jars: 1.8 ± 0.8 kg, 5.8 %; 98: 1.5 kg, 4.9 %.
    expect([97, 98].map((jars) => check(weighed(jars), 'R23', 40).state)).toEqual(['open', 'nothing-open']);
    expect(check(weighed(97), 'R23', 40).findings).toMatchObject([{ level: 'look', lot: 'barrel-1-a', text: '1.8 ± 0.8 kg of olives (6 %) are unaccounted for.' }]);
    expect(check(weighed(97, { massWithinPercent: 10 }), 'R23', 40).state).toBe('nothing-open');
    expect(check(weighed(120), 'R23', 40).findings[0]?.text).toContain('more in jars than the fruit can give');
  });
  it('R23 without the weight of a jar only what its guess cannot hide is told; the rest is not recorded', () => {
    const packed = (jars: number): ShedBook => {
      const { book } = fresh();
      jarred(book, 30, { jars });
      return book;
    };
    expect([packed(112), packed(40)].map((book) => check(book, 'R23', 40).state)).toEqual(['not-recorded', 'open']);
  });
  it('R23 salt: 25 kg came in, 2.7 in a brine, so 22.3 are left; 20 counted are 9 % too few', () => {
    const { book } = fresh({ lots: ['salt-1'] });
    expect(check(book, 'R23', 40).state).toBe('nothing-open');
    book.write('ingredient-received', { id: 'salt-1', item: 'salt', name: 'Coarse salt', supplier: 'Works', receivedAt: at(0), quantity: 25, unit: 'kg' }, day(0));
    const counted = (left: number, days: number): void => void book.write('ingredient-counted', { id: 'salt-1', at: at(days), left }, day(days));
    counted(22.3, 1);
    expect(check(book, 'R23', 40).state).toBe('nothing-open');
    counted(20, 2);
    expect(check(book, 'R23', 40).findings).toMatchObject([{ lot: null, text: 'Coarse salt (salt-1): 2.3 kg (9 %) unaccounted for.', place: { screen: 'stores', id: 'salt-1' } }]);
  });
  it('R28: not recorded until the journal was checked', () => {
    const { book } = fresh();
    expect(check(book, 'R28', 2).state).toBe('not-recorded');
    const facts = (fault: string | null): ReadinessFacts => ({ verified: { at: day(1), fault } });
    expect([check(book, 'R28', 2, facts(null)).state, check(book, 'R28', 2, facts('entry 7')).state]).toEqual(['nothing-open', 'open']);
  });
  it('R29 no backup at all, and the last one older than 31 days; a newer one clears it', () => {
    const { book } = fresh();
    const made = (days: number): number => book.write('backup-made', { bytes: 1_000, files: 5 }, day(days));
    expect(check(book, 'R29', 1)).toMatchObject({ level: 'look', findings: [{ text: 'No backup was made with this program yet.' }] });
    made(1);
    expect(check(book, 'R29', 32).state).toBe('nothing-open');
    expect(check(book, 'R29', 32.1).findings).toMatchObject([{ level: 'look', text: 'The last backup is more than a month old.' }]);
    made(32.1);
    expect(check(book, 'R29', 33).state).toBe('nothing-open');
  });
});

describe('the sum', () => {
  const result = (state: CheckResult['state'], findings: CheckResult['findings'] = []): CheckResult => ({ id: 'R01', level: 'stop', what: 'w', state, why: null, findings });
  const finding = { level: 'fix', lot: null, text: 't', act: 'a', place: { screen: 'batch', id: null } } as const;
  it.each([
    ['Nothing open in these checks.', [result('nothing-open')]],
    ['Nothing open in the checks that could be worked out. 1 check could not be worked out: not recorded.', [result('nothing-open'), result('not-recorded')]],
    ['Open: 1 to stop, 2 to fix. 2 checks could not be worked out: not recorded.', [result('open', [{ ...finding, level: 'stop' }, finding, finding]), result('not-recorded'), result('not-recorded')]],
  ])('is %s', (words, checks) => {
    expect(readinessWords(checks)).toBe(words);
  });
});
