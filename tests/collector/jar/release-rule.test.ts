import { describe, expect, test } from 'vitest';
import { stageAt } from '#domain/cure/stage.ts';
import { tasksOf } from '#domain/cure/tasks.ts';
import type { EntryBodies } from '#domain/journal/entry.ts';
import type { Batch } from '#domain/journal/shed.ts';
import { openHolds } from '#domain/jar/holds.ts';
import { jarGateOf, jarReadings } from '#domain/jar/jar-evidence.ts';
import { jarStock } from '#domain/jar/jar-stock.ts';
import type { LotState } from '#domain/jar/release-rule.ts';
import { mayDistribute, mayRelease } from '#domain/jar/release-rule.ts';
import { dayMs, hourMs, toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { createShedBook, openDrum } from '../../helpers/shed-book.ts';

const start = Date.parse('2026-10-05T08:00:00Z');
const zone = 'Europe/Rome';
const day = (days: number): EpochMs => start + days * dayMs;

/** A lot in jars from day 30, with a meter that is calibrated each day it is used, a second acid buffer read with it. */
const story = ({ jarred = true } = {}) => {
  const book = createShedBook();
  const lot = openDrum(book, start, { style: 'changed-brine' });
  const write = <Kind extends 'jarred' | 'jar-ph' | 'hold' | 'release' | 'distributed' | 'observed'>(kind: Kind, at: EpochMs, body: Omit<EntryBodies[Kind], 'lot' | 'at'>): number =>
    book.write(kind, { lot, at: toRfc3339(at), ...body } as EntryBodies[Kind], at);
  if (jarred) write('jarred', day(30), { jars: 60, jarMl: 720, brine: 'fresh', acid: 'vinegar', ingredients: ['olives', 'salt', 'vinegar'] });
  const read = (jar: string, at: EpochMs, value: number): number => {
    book.write('calibrated', { probe: 'meter-1', kind: 'ph', temperatureC: 20, points: [{ ph: 7.02, mv: 0 }, { ph: 4, mv: 174.5 }, { ph: 4, mv: 174 }], at: toRfc3339(at - hourMs) }, at);
    return write('jar-ph', at, { value, instrument: 'meter-1', jar });
  };
  const batch = (): Batch => {
    const found = book.shed.batches.get(lot);
    if (found === undefined) throw new Error('no batch');
    return found;
  };
  const state = (at: number): LotState => ({ batch: batch(), now: day(at), gate: jarGateOf(batch(), { calibrations: book.shed.calibrations, zone, now: day(at) }) });
  const prove = (value = 4): void => {
    for (const [jar, at] of [['1', 32], ['2', 32], ['1', 35]] as const) read(jar, day(at), value);
  };
  return { book, lot, write, read, prove, state, batch };
};

describe('packed-jar evidence from the story', () => {
  test('readings with their meter of that day; two jars read twice are inside', () => {
    const { prove, state } = story();
    expect(state(31).gate).toMatchObject({ verdict: 'unknown', unmet: ['no-reading'] });
    prove();
    expect(state(36).gate).toMatchObject({ verdict: 'inside', mean: 4 });
    // What was not yet measured by then is not known then.
    expect(state(33).gate).toMatchObject({ verdict: 'unknown', unmet: ['not-repeated'] });
  });
  test('a meter calibrated the day before, with no second acid buffer, or by a strip, is no evidence', () => {
    const { book, write, batch } = story();
    const at = day(32);
    const readings = () => jarReadings(batch(), { calibrations: book.shed.calibrations, zone, now: day(40) });
    book.write('calibrated', { probe: 'meter-1', kind: 'ph', temperatureC: 20, points: [{ ph: 7.02, mv: 0 }, { ph: 4, mv: 174.5 }], at: toRfc3339(at - dayMs) }, at);
    write('jar-ph', at, { value: 4, instrument: 'meter-1', jar: '1' });
    expect(readings()[0]).toMatchObject({ method: 'meter', meter: null });
    book.write('calibrated', { probe: 'meter-1', kind: 'ph', temperatureC: 20, points: [{ ph: 7.02, mv: 0 }, { ph: 4, mv: 174.5 }], at: toRfc3339(at - hourMs) }, at);
    expect(readings()[0]?.meter).toMatchObject({ secondBufferError: null });
    write('jar-ph', at, { value: 4, instrument: 'ph-strips' });
    expect(readings()[1]).toMatchObject({ method: 'strip', jar: null, meter: null });
  });
  test('the local day decides: 23:30 and 00:30 in Rome are two days, though one in UTC', () => {
    const { book, write, batch } = story();
    const midnight = Date.parse('2026-11-06T23:00:00Z');
    book.write('calibrated', { probe: 'meter-1', kind: 'ph', temperatureC: 20, points: [{ ph: 7.02, mv: 0 }, { ph: 4, mv: 174.5 }], at: toRfc3339(midnight - hourMs / 2) }, midnight);
    write('jar-ph', midnight + hourMs / 2, { value: 4, instrument: 'meter-1', jar: '1' });
    const [reading] = jarReadings(batch(), { calibrations: book.shed.calibrations, zone, now: midnight + dayMs });
    expect(reading?.meter).toBeNull();
    const [inUtc] = jarReadings(batch(), { calibrations: book.shed.calibrations, zone: 'UTC', now: midnight + dayMs });
    expect(inUtc?.meter).not.toBeNull();
  });
  test('a reading taken back counts no more', () => {
    const { book, read, prove, state } = story();
    prove();
    const high = read('2', day(36), 4.8);
    expect(state(37).gate?.verdict).toBe('outside');
    book.write('corrected', { entry: high, reason: 'other lot', replacement: null }, day(37));
    expect(state(37).gate?.verdict).toBe('inside');
  });
});

describe('holds', () => {
  test('a hold stands until a release, and only one that was written after it', () => {
    const { write, state } = story();
    write('hold', day(31), { reason: 'two domed lids' });
    expect(openHolds(state(30.5).batch.acts, day(30.5))).toEqual([]);
    expect(openHolds(state(40).batch.acts, day(40))).toMatchObject([{ reason: 'two domed lids', from: 'hold', by: 'user:owner' }]);
    write('release', day(33), { by: 'owner', exception: 'lids from another lot' });
    expect(openHolds(state(40).batch.acts, day(40))).toEqual([]);
    expect(openHolds(state(32).batch.acts, day(32))).toHaveLength(1);
    // Seen before the release, written down after it: whoever released did not know.
    write('hold', day(32), { reason: 'mould in jar 7' });
    expect(openHolds(state(40).batch.acts, day(40))).toMatchObject([{ reason: 'mould in jar 7' }]);
  });
  test('a release dated before a hold does not end it', () => {
    const { write, state } = story();
    write('hold', day(34), { reason: 'leak' });
    write('release', day(33), { by: 'owner', exception: 'x' });
    expect(openHolds(state(40).batch.acts, day(40))).toHaveLength(1);
  });
  test('a sign of severity 3 holds by itself; a lesser one and words of one’s own do not; taking it back lifts it', () => {
    const { book, write, state } = story();
    write('observed', day(31), { sign: 'film' });
    write('observed', day(31), { sign: 'smells a bit' });
    expect(openHolds(state(40).batch.acts, day(40))).toEqual([]);
    const seen = write('observed', day(31), { sign: 'mould' });
    expect(openHolds(state(40).batch.acts, day(40))).toMatchObject([{ entry: seen, from: 'sign', reason: 'mould' }]);
    book.write('corrected', { entry: seen, reason: 'was oil', replacement: null }, day(32));
    expect(openHolds(state(40).batch.acts, day(40))).toEqual([]);
  });
  test('mending the words of a hold, or the name in a release, neither opens nor ends anything', () => {
    const { book, write, state } = story();
    const held = write('hold', day(31), { reason: 'laek' });
    const released = write('release', day(32), { by: 'owenr', exception: 'tight again' });
    book.write('corrected', { entry: held, reason: 'typing', replacement: { kind: 'hold', at: toRfc3339(day(31)), reason: 'leak' } }, day(33));
    expect(openHolds(state(40).batch.acts, day(40))).toEqual([]);
    write('hold', day(31.5), { reason: 'found later' });
    book.write('corrected', { entry: released, reason: 'typing', replacement: { kind: 'release', at: toRfc3339(day(32)), by: 'owner', exception: 'tight again' } }, day(34));
    expect(openHolds(state(40).batch.acts, day(40))).toMatchObject([{ reason: 'found later' }]);
  });
});

describe('release', () => {
  test('by the packed-jar rule, or by an exception with a name', () => {
    const { write, prove, state } = story();
    write('hold', day(31), { reason: 'wait for the jars' });
    expect(mayRelease(state(32))).toMatchObject({ may: false, code: 'packed-jar-rule' });
    expect(mayRelease(state(32), '  ')).toMatchObject({ may: false, code: 'packed-jar-rule' });
    expect(mayRelease(state(32), 'laboratory report 17')).toMatchObject({ may: true, basis: 'exception', ends: [{ reason: 'wait for the jars' }] });
    prove();
    expect(mayRelease(state(36))).toMatchObject({ may: true, basis: 'packed-jar-rule' });
  });
  test('a drum has no packed jars: only with a reason, and not when nothing is held', () => {
    const { write, state } = story({ jarred: false });
    expect(mayRelease(state(5))).toMatchObject({ may: false, code: 'nothing-held' });
    write('observed', day(6), { sign: 'mould' });
    expect(mayRelease(state(7))).toMatchObject({ may: false, code: 'not-jarred' });
    expect(mayRelease(state(7), 'lifted off, pH 4.0 on day 9')).toMatchObject({ may: true, basis: 'exception' });
  });
});

describe('distribution', () => {
  const ten = { jars: 10 };
  test('is blocked before jarring, on hold, while unknown, when outside, and by more than there is', () => {
    const drum = story({ jarred: false });
    expect(mayDistribute(drum.state(20), ten)).toMatchObject({ may: false, code: 'not-jarred' });
    const { write, prove, read, state } = story();
    expect(mayDistribute(state(31), ten)).toMatchObject({ may: false, code: 'packed-jars-unknown' });
    expect(mayDistribute(state(31), { ...ten, unprovenMayLeave: true })).toMatchObject({ may: true, by: 'unproven' });
    prove();
    expect(mayDistribute(state(36), ten)).toEqual({ may: true, left: 50, by: 'packed-jar-rule' });
    expect(mayDistribute(state(36), { jars: 61 })).toMatchObject({ may: false, code: 'not-in-stock' });
    for (const jars of [0, -1, Number.NaN]) expect(mayDistribute(state(36), { jars })).toMatchObject({ may: false, code: 'not-in-stock' });
    write('hold', day(37), { reason: 'leak' });
    expect(mayDistribute(state(38), { ...ten, unprovenMayLeave: true })).toMatchObject({ may: false, code: 'on-hold', holds: [{ reason: 'leak' }] });
    write('release', day(39), { by: 'owner' });
    expect(mayDistribute(state(40), ten)).toMatchObject({ may: true });
    read('3', day(41), 4.7);
    expect(mayDistribute(state(42), { ...ten, unprovenMayLeave: true })).toMatchObject({ may: false, code: 'packed-jars-outside' });
  });
  test('an exception stands against unknown, until a later reading is outside or the lot is packed again', () => {
    const { write, read, state } = story();
    write('release', day(32), { by: 'owner' });
    expect(mayDistribute(state(33), ten)).toMatchObject({ may: false, code: 'packed-jars-unknown' });
    write('release', day(33), { by: 'owner', exception: 'laboratory report 17' });
    expect(mayDistribute(state(34), ten)).toMatchObject({ may: true, by: 'exception' });
    read('1', day(35), 4.9);
    expect(mayDistribute(state(36), ten)).toMatchObject({ may: false, code: 'packed-jars-outside' });
    write('release', day(37), { by: 'owner', exception: 'second report' });
    expect(mayDistribute(state(38), ten)).toMatchObject({ may: true, by: 'exception' });
    write('jarred', day(40), { jars: 5, jarMl: 720, brine: 'fresh', ingredients: [] });
    expect(mayDistribute(state(41), ten)).toMatchObject({ may: false });
  });
});

describe('stock', () => {
  test('is what was jarred less what left; jars written out twice show as less than nothing', () => {
    const { write, state, book, lot } = story();
    write('distributed', day(50), { to: 'Saturday market', jars: 24 });
    const wrong = write('distributed', day(51), { to: 'shop', jars: 40 });
    expect(jarStock(state(50.5).batch.acts, day(50.5))).toMatchObject({ jarred: 60, distributed: 24, left: 36 });
    expect(jarStock(state(52).batch.acts, day(52))).toMatchObject({ left: -4, to: [{ to: 'Saturday market' }, { to: 'shop', jars: 40 }] });
    book.write('corrected', { entry: wrong, reason: 'four, not forty', replacement: { kind: 'distributed', at: toRfc3339(day(51)), to: 'shop', jars: 4 } }, day(52));
    expect(jarStock(book.shed.batches.get(lot)?.acts ?? [], day(60))).toMatchObject({ jarred: 60, distributed: 28, left: 32 });
  });
});

describe('the rest of the story', () => {
  test('stage and drum do not move by readings of jars, holds, releases and sales; the jars need not be measured again', () => {
    const { book, lot, write, prove, batch } = story();
    const rest = () => tasksOf(book.shed, day(40), zone).filter(({ kind }) => kind !== 'measure-jars');
    expect(tasksOf(book.shed, day(40), zone)).toHaveLength(rest().length + 1);
    const before = { stage: stageAt(batch(), day(40)), jarredAt: batch().jarredAt, lotInDrum: book.shed.drums.get('barrel-1')?.lot, tasks: rest() };
    prove();
    write('hold', day(36), { reason: 'leak' });
    write('release', day(37), { by: 'owner' });
    write('distributed', day(38), { to: 'market', jars: 5 });
    expect({ stage: stageAt(batch(), day(40)), jarredAt: batch().jarredAt, lotInDrum: book.shed.drums.get('barrel-1')?.lot, tasks: rest() }).toEqual(before);
    expect(tasksOf(book.shed, day(40), zone)).toEqual(rest());
    expect(before).toMatchObject({ stage: 'rest', lotInDrum: null });
    expect(book.shed.batches.get(lot)?.acts.map(({ kind }) => kind)).toEqual(['jarred', 'jar-ph', 'jar-ph', 'jar-ph', 'hold', 'release', 'distributed']);
  });
  test('a hold on a drum leaves it in its drum, with its work still due but for the tasting', () => {
    const { book, write, batch } = story({ jarred: false });
    const before = tasksOf(book.shed, day(10), zone);
    write('hold', day(9), { reason: 'smell' });
    const held = tasksOf(book.shed, day(10), zone);
    expect(held.find(({ kind }) => kind === 'settle-hold')?.text).toMatch(/^Smell\. Nobody tastes/);
    expect(held.filter(({ kind }) => kind !== 'settle-hold')).toEqual(before.filter(({ kind }) => kind !== 'taste'));
    expect(before.some(({ kind }) => kind === 'taste')).toBe(true);
    expect([stageAt(batch(), day(10)), book.shed.drums.get('barrel-1')?.lot]).toEqual(['leach', batch().lot]);
  });
});
