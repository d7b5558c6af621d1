import { describe, expect, it } from 'vitest';
import type { Task } from '#contract';
import { createSheetStore, emptyDraft, isFilled, numberOf, sheetStops, taskFor, timeOf, toldBy, withoutBoxes, type Boxes, type SheetStop } from '../../dashboard/state/sheet.ts';
import { fixtureNow, fixtureWall, fixtureZone } from '../helpers/shed-fixture.ts';

const stop: SheetStop = { number: 1, drum: 'barrel-1', name: 'Barrel 1', lot: 'ST27-A7', brineL: 26, saltGPerL: 70 };
/** 11 June 2027, 14:24 in Adelaide. */
const onPaper = { date: '2027-06-11', time: null as string | null, zone: fixtureZone, now: fixtureNow };
const told = (boxes: Boxes, over: Partial<typeof onPaper> = {}) => toldBy(boxes, stop, { ...onPaper, ...over });
const at = '2027-06-10T23:30:00.000Z';

describe('a sheet from the shed', () => {
  it('numbers the drums as they are printed: those with fruit in them, in the order of the walk', () => {
    const wall = fixtureWall('eight');
    const stops = sheetStops(wall.drums, () => 66);
    expect(stops.map(({ number }) => number)).toEqual(stops.map((_, index) => index + 1));
    expect(stops.map(({ drum }) => drum)).toEqual(wall.drums.filter(({ batch }) => batch !== null && batch.jarredAt === null).map(({ id }) => id));
    expect(stops.every(({ saltGPerL }) => saltGPerL === 66)).toBe(true);
  });

  it('reads numbers and times as people write them', () => {
    expect(['14,2', ' 6 ', '4.05', '-1', '', '9x', '1,2,3'].map(numberOf)).toEqual([14.2, 6, 4.05, -1, null, null, null]);
    expect(['14:30', '14.30', '1430', '930', '9', '9h05', '24:00', '12:60', 'noon', ''].map(timeOf)).toEqual(['14:30', '14:30', '14:30', '09:30', '09:00', '09:05', null, null, null, null]);
  });

  it('makes an act of each box, with the time that stands on the paper and who wrote it', () => {
    const { acts, faults } = told({ temperature: '14,2', ph: '4.4', salt: '62', taste: '6', time: '9:00', who: 'Ana' });
    expect(faults).toEqual([]);
    expect(acts.map(({ entry }) => entry)).toEqual([
      { kind: 'measured', quantity: 'temperature', value: 14.2, at, writtenAt: at, note: 'on paper, by Ana' },
      { kind: 'measured', quantity: 'ph', value: 4.4, at, writtenAt: at, note: 'on paper, by Ana' },
      { kind: 'measured', quantity: 'salinity', value: 62, at, writtenAt: at, note: 'on paper, by Ana' },
      { kind: 'tasted', bitterness: 6, at, writtenAt: at, note: 'on paper, by Ana' },
    ]);
  });

  it('takes litres for a change or a topping up by how many they are, unless somebody says otherwise', () => {
    const poured = (boxes: Boxes) => told({ time: '9:00', ...boxes }).acts[0]?.entry;
    expect(poured({ litres: '25', saltIn: '2' })).toEqual({ kind: 'brine-changed', brineL: 25, saltGPerL: 80, at, writtenAt: at });
    expect(poured({ litres: '25' })).toMatchObject({ kind: 'brine-changed', saltGPerL: 70 });
    expect(poured({ litres: '25', saltIn: '0' })).toMatchObject({ kind: 'brine-changed', saltGPerL: 0 });
    expect(poured({ litres: '13.5' })).toMatchObject({ kind: 'brine-changed', fraction: 0.52 });
    expect(poured({ litres: '2' })).toMatchObject({ kind: 'brine-topped-up', brineL: 2, saltGPerL: 70 });
    expect(poured({ litres: '2', poured: 'change' })).toMatchObject({ kind: 'brine-changed', fraction: 0.08 });
    expect(poured({ saltIn: '0,4' })).toMatchObject({ kind: 'salt-added', saltG: 400 });
  });

  it('says what is wrong box by box, and makes nothing of it', () => {
    expect(told({ ph: '44', taste: 'x', time: '9:00' })).toEqual({ acts: [], faults: [{ box: 'ph', words: 'must lie between 0 and 14' }, { box: 'taste', words: 'is no number' }] });
    expect(told({ litres: '1', saltIn: '2', time: '9:00' }).faults).toEqual([{ box: 'saltIn', words: 'is more than that much brine can hold' }]);
    expect(told({ ph: '4.4' }).faults).toEqual([{ box: 'time', words: 'when was this done?' }]);
    expect(told({ ph: '4.4', time: '25:00' }).faults[0]).toEqual({ box: 'time', words: 'is no time of day: write 14:30' });
    expect(told({ ph: '4.4', time: '23:00' }).faults).toEqual([{ box: 'time', words: 'that lies ahead of now; is the day right?' }]);
    expect(told({ ph: '4.4', time: '23:00' }, { date: '2027-06-10' }).faults).toEqual([]);
  });

  it('takes the time of the drum above where its own box is empty', () => {
    expect(told({ ph: '4.4' }, { time: '09:00' }).acts[0]?.entry).toMatchObject({ at });
  });

  it('knows the task that an act settles, of its own lot only', () => {
    const tasks = [{ id: 'other', lot: 'ST27-B5', kind: 'taste' }, { id: 'own', lot: stop.lot, kind: 'taste' }] as unknown as readonly Task[];
    const [act] = told({ taste: '6', time: '9:00' }).acts;
    expect(act === undefined ? null : taskFor(tasks, stop.lot, act.entry)).toBe('own');
    const [other] = told({ ph: '4.4', time: '9:00' }).acts;
    expect(other === undefined ? null : taskFor(tasks, stop.lot, other.entry)).toBeNull();
  });

  it('forgets a box that was written, and keeps the time for the rest', () => {
    const draft = { date: '2027-06-11', drums: { [stop.lot]: { ph: '4.4', taste: '6', time: '9:00' }, other: { ph: '5' } } };
    const after = withoutBoxes(draft, stop.lot, ['ph']);
    expect(after.drums).toEqual({ [stop.lot]: { taste: '6', time: '9:00' }, other: { ph: '5' } });
    expect(withoutBoxes(after, stop.lot, ['taste']).drums).toEqual({ other: { ph: '5' } });
  });

  it('is kept by the browser letter by letter; an empty one is of today', () => {
    const kept = new Map<string, string>();
    const store = createSheetStore({ getItem: (name) => kept.get(name) ?? null, setItem: (name, value) => void kept.set(name, value) });
    expect(store.read()).toBeNull();
    const draft = { date: '2027-06-10', drums: { a: { ph: '4' } } };
    store.write(draft);
    expect(store.read()).toEqual(draft);
    store.write({ date: '2027-06-10', drums: { a: { time: '9' } } });
    expect(store.read()).toBeNull();
    expect(isFilled({ who: 'Ana', time: '9' })).toBe(false);
    expect(emptyDraft(fixtureNow, fixtureZone)).toEqual({ date: '2027-06-11', drums: {} });
    kept.set('brineward.sheet', '{"date": 3');
    expect(store.read()).toBeNull();
  });

  it('lives on where the browser keeps nothing', () => {
    const closed = createSheetStore({ getItem: () => { throw new Error('closed'); }, setItem: () => { throw new Error('closed'); } });
    closed.write(emptyDraft(fixtureNow, fixtureZone));
    expect(closed.read()).toBeNull();
  });
});
