/** What the screens say: which word for which state, and never a number that is not current dressed as one. */
import { describe, expect, it } from 'vitest';
import type { Alert, Drum, NowValue, StoryEntry, Task } from '#contract';
import { metric, type UnitChoice } from '../../dashboard/format/units.ts';
import { inOrder, isUnseen, unseenIds } from '../../dashboard/state/alerts.ts';
import { batchWords } from '../../dashboard/state/batch-words.ts';
import { nextFor, taskWords } from '../../dashboard/state/next.ts';
import { storyWords } from '../../dashboard/state/story-words.ts';
import { shown, trendStep } from '../../dashboard/state/value.ts';
import { troubleOf } from '../../dashboard/state/trouble.ts';
import { fixtureNow, fixtureWall, fixtureZone, silentAlert, warmAlert } from '../helpers/shed-fixture.ts';

const frame = { now: fixtureNow, zone: fixtureZone, units: metric };
const plain = (text: string): string => text.replaceAll('\u00a0', ' ');
const at = (hours: number): string => new Date(fixtureNow + hours * 3_600_000).toISOString();
const value = (over: Partial<Extract<NowValue, { value: number }>>): NowValue => ({ value: 16.5, unit: 'Cel', at: at(0), ageS: 6, quality: 'good', uncertainty: 0.5, trendPerHour: 0, source: 'probe', ...over });
const task = (over: Partial<Task>): Task => ({ id: 't', drum: 'd', lot: 'l', kind: 'change-brine', dueAt: at(4), overdue: false, title: 'Change brine', text: 'Change the brine.', needs: { brineL: 26, saltG: 1_740 }, ...over });
type Wanting = Pick<Drum, 'alerts' | 'nextTask' | 'batch' | 'now'>;
const nothingNow: Drum['now'] = { temperature: { absent: 'no-probe' }, ph: { absent: 'no-probe' }, salinity: { absent: 'no-probe' } };
const drum = (over: Partial<Wanting>): Wanting => ({ now: nothingNow, alerts: [], nextTask: null, batch: fixtureWall('one').drums[0]?.batch ?? null, ...over });

describe('a value', () => {
  it('is current only when it is good', () => {
    expect(shown(value({})).kind).toBe('current');
    for (const quality of ['stale', 'stuck', 'uncalibrated', 'out-of-range', 'clock-doubtful', 'something new']) {
      expect(shown(value({ quality }))).toMatchObject({ kind: 'grey', value: 16.5 });
    }
  });

  it('is no number at all when the sensor says that it is broken', () => {
    for (const quality of ['power-on', 'disconnected', 'blank-scratchpad']) expect(shown(value({ value: 85, quality }))).toMatchObject({ kind: 'grey', value: null });
  });

  it('is absent with a reason', () => {
    expect(shown({ absent: 'no-probe' })).toEqual({ kind: 'absent', word: 'no probe here' });
    expect(shown({ absent: 'no-reading' })).toEqual({ kind: 'absent', word: 'no reading yet' });
  });

  it('has a trend in steps that can be told apart, or none', () => {
    expect([null, 0.02, -0.02, 0.2, -0.2, 0.9, -0.9].map(trendStep)).toEqual([null, 'steady', 'steady', 'rising', 'falling', 'rising fast', 'falling fast']);
  });
});

describe('what a drum wants next', () => {
  it('is the first thing to do of its worst standing alert', () => {
    const high: Alert = { ...warmAlert, id: 'b', priority: 'high', act: 'Cool the drum now', limit: { ...warmAlert.limit, value: 30 }, value: 31.2 };
    const { title, detail } = nextFor(drum({ alerts: [silentAlert, warmAlert, high], nextTask: task({}) }), frame);
    expect(title).toBe('Cool the drum now');
    expect(plain(detail)).toBe('Over 30 °C since 12:10');
  });

  it('is what is due before what is only foretold, and the forecast where nothing is', () => {
    const foretold: Alert = { ...warmAlert, rule: 'temperature-forecast', priority: 'low', act: 'See the heat plan', text: 'Passes 25 °C on Thursday about 15:00 (± 2 h).', limit: { ...warmAlert.limit, side: null } };
    expect(nextFor(drum({ alerts: [foretold], nextTask: task({ dueAt: new Date(frame.now).toISOString() }) }), frame).title).toBe(task({}).title);
    expect(nextFor(drum({ alerts: [foretold], nextTask: null }), frame)).toEqual({ mark: 'none', title: 'See the heat plan', detail: 'Passes 25 °C on Thursday about 15:00 (± 2 h)' });
    expect(nextFor(drum({ alerts: [foretold, warmAlert] }), frame).title).toBe(warmAlert.act);
  });

  it('says "may be" where only the uncertainty reaches beyond the limit', () => {
    expect(plain(nextFor(drum({ alerts: [{ ...warmAlert, value: 24.7 }] }), frame).detail)).toBe('May be over 25 °C since 12:10');
    expect(plain(nextFor(drum({ alerts: [{ ...warmAlert, value: 11, limit: { ...warmAlert.limit, value: 12, side: 'low' } }] }), frame).detail)).toBe('Under 12 °C since 12:10');
  });

  it('judges by what is measured now, not by what raised the alert', () => {
    const detail = (temperature: NowValue): string => plain(nextFor(drum({ alerts: [{ ...warmAlert, value: 24.7 }], now: { ...nothingNow, temperature } }), frame).detail);
    expect(detail(value({ value: 26.3 }))).toBe('Over 25 °C since 12:10');
    expect(detail(value({ value: 24.8 }))).toBe('May be over 25 °C since 12:10');
    expect(detail(value({ value: 23.9 }))).toBe('Was over 25 °C since 12:10');
    // A value that is not current proves nothing.
    expect(detail(value({ value: 26.3, quality: 'stale' }))).toBe('May be over 25 °C since 12:10');
  });

  it('says what a silent probe is about', () => {
    expect(nextFor(drum({ alerts: [silentAlert] }), frame)).toEqual({ mark: 'none', title: 'Look at the probe', detail: 'nothing heard since 04:12' });
  });

  it('is the due task with its amounts, today or late', () => {
    const words = taskWords(task({}), frame);
    expect({ ...words, detail: plain(words.detail) }).toEqual({ mark: 'due', title: 'Change brine', detail: 'today · 26 L with 1.74 kg' });
    expect(taskWords(task({ dueAt: at(-20), overdue: true }), frame).mark).toBe('late');
    expect(plain(taskWords(task({ dueAt: at(-20), overdue: true, needs: {} }), frame).detail)).toBe('overdue since yesterday');
    expect(taskWords(task({ dueAt: at(40) }), frame).mark).toBe('none');
  });

  it('keeps the amounts in sight when the alert only repeats the overdue task', () => {
    const late = { ...silentAlert, rule: 'change-overdue', act: 'Change it' };
    expect(nextFor(drum({ alerts: [late], nextTask: task({ dueAt: at(-20), overdue: true }) }), frame).title).toBe('Change brine');
  });

  it('tells of an alert that is over but unseen, and never counts it as standing', () => {
    const returned: Alert = { ...warmAlert, state: 'returned', returnedAt: at(-1) };
    expect(nextFor(drum({ alerts: [returned], nextTask: task({ dueAt: at(60) }) }), frame).title).toBe('Inside again');
    expect(nextFor(drum({ alerts: [returned], nextTask: task({}) }), frame).title).toBe('Change brine');
  });

  it('is a batch for an empty drum, and nothing where nothing is due', () => {
    expect(nextFor(drum({ batch: null }), frame).title).toBe('Open a batch');
    expect(nextFor(drum({}), frame)).toEqual({ mark: 'none', title: '', detail: 'nothing due' });
  });
});

describe('alerts', () => {
  it('stand in the order in which they want to be seen', () => {
    const make = (id: string, over: Partial<Alert>): Alert => ({ ...warmAlert, id, ...over });
    const alerts = [make('low', { priority: 'low' }), make('back', { priority: 'high', state: 'returned' }), make('seen', { priority: 'high', state: 'acknowledged' }), make('new', { priority: 'high' }), make('over', { state: 'normal' })];
    expect(inOrder(alerts).map(({ id }) => id)).toEqual(['new', 'seen', 'low', 'back']);
    expect(alerts.filter(isUnseen).map(({ id }) => id)).toEqual(['low', 'back', 'new']);
    expect(unseenIds(alerts)).toEqual(['new']);
  });
});

describe('a batch and its story in words', () => {
  it('names the stage and the day', () => {
    const [row] = fixtureWall('full').drums;
    const words = batchWords(row?.batch ?? null, fixtureZone);
    expect(words.fruit).toBe('pitted · Leccino');
    expect(plain(words.lot)).toBe('ST27-A4 · ready to eat since 6 Jun');
    expect(batchWords(null, fixtureZone).fruit).toBe('no batch');
  });

  it('tells each kind of act, also one that it does not know', () => {
    const entry = (kind: string, body: StoryEntry['body']) => plain(Object.values(storyWords({ kind, body }, metric)).join(': '));
    expect(entry('brine-changed', { brineL: 26, saltGPerL: 67, fraction: 0.5 })).toBe('Brine changed: 26 L, 67 g/L as poured, 50 % of the drum');
    expect(entry('brine-changed', { brineL: 9, saltGPerL: 0 })).toBe('Water changed: 9 L, plain water');
    expect(entry('tasted', { bitterness: 4 })).toBe('Tasted: bitterness 4 of 10');
    expect(entry('measured', { quantity: 'ph', value: 4.21 })).toBe('Measured: pH 4.21');
    expect(entry('moon-phase', { reason: 'full' })).toBe('moon phase: full');
  });

  it('follows the units of the reader', () => {
    const units: UnitChoice = { temperature: 'F', mass: 'oz', volume: 'gal' };
    expect(plain(storyWords({ kind: 'measured', body: { quantity: 'temperature', value: 25 } }, units).detail)).toBe('77.0 °F');
  });
});

describe('why nothing is live', () => {
  const fine = { connection: { state: 'live' }, failure: null, health: null } as const;
  it('is nothing while all is well, also before the first word', () => {
    expect(troubleOf(fine, fixtureNow, fixtureZone)).toBeNull();
    expect(troubleOf({ ...fine, connection: { state: 'connecting' } }, fixtureNow, fixtureZone)).toBeNull();
  });

  it('names the nearest break, since when it is', () => {
    const silent = { status: 'degraded', version: '1', collector: { status: 'silent', since: at(-0.5), memoryMb: null } } as const;
    expect(troubleOf({ ...fine, connection: { state: 'lost', heardAt: fixtureNow - 120_000 }, health: silent }, fixtureNow, fixtureZone)?.title).toBe('Not live since 14:22');
    const collector = troubleOf({ ...fine, health: silent }, fixtureNow, fixtureZone);
    expect(collector?.title).toBe('Not live since 13:54');
    expect(collector?.words).toContain('collector');
    expect(troubleOf({ ...fine, health: { status: 'degraded', version: '1', store: { kind: 'sqlite', status: 'lost' } } }, fixtureNow, fixtureZone)?.words).toContain('store');
  });
});
