import type { z } from 'zod';
import { dayMs, hourMs, minuteMs, secondMs, wall, type Alert, type BatchSummary, type Drum, type NowValue, type Ribbon, type Task, type Wall } from '#contract';

/**
 * An invented shed, Saltbush Terrace, as the API would answer for it at one fixed moment. Every figure is made up for drawing and clicking;
 * the answers are parsed by the contract, so that the screens are never tested against a shape the server cannot send.
 */
export const fixtureZone = 'Australia/Adelaide';
/** Friday, 11 June 2027, 14:24 in the zone of the site. */
export const fixtureNow = Date.parse('2027-06-11T04:54:00.000Z');

type WallInput = z.input<typeof wall>;
type Row = Wall['drums'][number];

const iso = (t: number): string => new Date(t).toISOString();
const daysAgo = (days: number): number => fixtureNow - days * dayMs;

const temperatureNow = (value: number, over: Partial<Extract<NowValue, { value: number }>> = {}): NowValue => ({
  value, unit: 'Cel', at: iso(fixtureNow - 6 * secondMs), ageS: 6, quality: 'good', uncertainty: 0.5, trendPerHour: 0.2, source: 'probe', ...over,
});

/** A shed's slow swing with its days on top, and whatever the drum did of its own. */
const course = (fromDay: number, toDay: number, base: number, own: (day: number) => number = () => 0): Ribbon['temperature'] => {
  const points = [];
  for (let day = fromDay; day >= toDay; day -= 0.25) {
    const mean = base + 1.6 * Math.sin(day / 4.3) + 0.8 * Math.sin(day / 1.9 + 1) + 0.4 * Math.sin(day * 2 * Math.PI) + own(day);
    points.push({ t: daysAgo(day), min: mean - 0.5, mean, max: mean + 0.5 });
  }
  return points;
};

const bell = (day: number, middle: number, wide: number, height: number): number => height * Math.exp(-(((day - middle) / wide) ** 2));

const ribbon = (from: number, over: Partial<Ribbon>): Ribbon => {
  const made: Ribbon = {
    from: daysAgo(from), to: fixtureNow + 14 * dayMs, band: { low: 12, high: 21 }, temperature: course(from, 0, 16.5), gaps: [], outside: [], changes: [], tastings: [],
    jarredAt: null, readyToEatAt: null, forecast: { unknown: 'two tastings are needed before a date can be named' }, ...over,
  };
  return { ...made, temperature: made.temperature.filter(({ t }) => !made.gaps.some((gap) => t > gap.from && t < gap.to)) };
};

const forecast = (from: number, likely: number, to: number): BatchSummary['forecast'] => ({
  readyFrom: iso(fixtureNow + from * dayMs), readyLikely: iso(fixtureNow + likely * dayMs), readyTo: iso(fixtureNow + to * dayMs), basis: 'leaching model with this batch’s tastings',
});

const changes = (...days: readonly number[]): Ribbon['changes'] => days.map((day, index) => ({ t: daysAgo(day), sequence: 100 + index }));
const tastings = (...pairs: readonly (readonly [day: number, bitterness: number])[]): Ribbon['tastings'] => pairs.map(([day, bitterness], index) => ({ t: daysAgo(day), sequence: 200 + index, bitterness }));

const batch = (drum: string, lot: string, day: number, over: Partial<BatchSummary>): BatchSummary => ({
  lot, drum, pickedAt: iso(daysAgo(day + 1)), startedAt: iso(daysAgo(day - 1)), cut: 'slit', style: 'changed-brine', maturity: 'green', variety: 'Picual', trees: '3, 4, 9',
  fruitKg: 34, brineL: 26, saltGPerL: 67, stage: 'leach', day, jarredAt: null, readyToEatAt: null, held: false, jarsLeft: null, forecast: { unknown: 'two tastings are needed before a date can be named' }, ...over,
});

const task = (drum: string, lot: string, kind: string, title: string, text: string, dueInH: number, over: Partial<Task> = {}): Task => ({
  id: `${lot.toLowerCase()}-${kind}`, drum, lot, kind, dueAt: iso(fixtureNow + dueInH * hourMs), overdue: dueInH < 0, title, text, needs: {}, ...over,
});

const drum = (id: string, name: string, over: Partial<Row>): Row => ({
  id, name, volumeL: 60, insulated: false, flag: { state: 'inside', word: 'inside' },
  now: { temperature: temperatureNow(16.5), ph: { absent: 'no-reading' }, salinity: { absent: 'no-probe' } },
  batch: null, alerts: [], nextTask: null, revision: 10, ribbon: null, ...over,
});

export const warmAlert: Alert = {
  id: 'range-brine-warm-barrel-3-1', drum: 'barrel-3', lot: 'ST27-C2', rule: 'leach-temperature-high', quantity: 'temperature', priority: 'medium', state: 'unacknowledged',
  since: iso(fixtureNow - 134 * minuteMs), raisedAt: iso(fixtureNow - 132 * minuteMs), returnedAt: null, acknowledgedBy: null, shelf: null, actions: [], value: 25.9, peak: 26.2,
  limit: { value: 25, unit: 'Cel', source: 'common practice, no source', side: 'high' }, act: 'Shade the drum',
  text: 'Brine is too warm: 25.9 ± 0.5 °C, limit 25 °C.', advice: 'Shade the drum and look for film and soft fruit. Check that the fruit is under the brine, and measure the salt.',
};

export const silentAlert: Alert = {
  id: 'silence-barrel-5-1', drum: 'barrel-5', lot: 'ST27-E1', rule: 'temperature-silent', quantity: 'temperature', priority: 'medium', state: 'acknowledged',
  since: iso(fixtureNow - 612 * minuteMs), raisedAt: iso(fixtureNow - 602 * minuteMs), returnedAt: null, acknowledgedBy: 'user:owner', shelf: null, actions: [], value: null, peak: null,
  limit: { value: null, unit: 'min', source: 'the interval of the probe', side: null }, act: 'Look at the probe', text: 'Probe barrel-5 has sent no brine temperature for 10 hours.', advice: 'The brine temperature is unknown until it speaks again: measure by hand. Look at power, lead, plug and network.',
};

const row = {
  jarred: drum('barrel-1', 'Barrel 1', {
    flag: { state: 'done', word: 'jarred' },
    now: { temperature: { absent: 'no-probe' }, ph: { absent: 'no-probe' }, salinity: { absent: 'no-probe' } },
    batch: batch('barrel-1', 'ST27-A4', 40, { cut: 'pitted', variety: 'Leccino', stage: 'ready', jarredAt: iso(daysAgo(19)), readyToEatAt: iso(daysAgo(5)) }),
    ribbon: ribbon(39, { to: fixtureNow, temperature: course(39, 19, 16), changes: changes(37, 35, 33, 26, 19), tastings: tastings([29, 6], [25, 4], [21, 2], [19.2, 1]), jarredAt: daysAgo(19), readyToEatAt: daysAgo(5) }),
  }),
  inside: drum('barrel-2', 'Barrel 2', {
    batch: batch('barrel-2', 'ST27-B9', 33, { forecast: forecast(7, 11, 18) }),
    nextTask: task('barrel-2', 'ST27-B9', 'change-brine', 'Change brine', 'Change the brine in Barrel 2: 26 L with 1.7 kg salt, as last time.', 4, { needs: { brineL: 26, saltG: 1_740 } }),
    ribbon: ribbon(32, { to: fixtureNow + 18 * dayMs, changes: changes(30, 28, 26, 19, 12, 5), tastings: tastings([14, 7], [8, 5], [2, 4]), forecast: forecast(7, 11, 18) }),
  }),
  warm: drum('barrel-3', 'Barrel 3', {
    flag: { state: 'caution', word: 'warm' },
    now: { temperature: temperatureNow(25.9, { trendPerHour: 0.6 }), ph: { absent: 'no-reading' }, salinity: { absent: 'no-probe' } },
    batch: batch('barrel-3', 'ST27-C2', 25, { cut: 'pitted', variety: 'Frantoio', forecast: forecast(-1, 3, 7) }), alerts: [warmAlert],
    ribbon: ribbon(24, {
      to: fixtureNow + 7 * dayMs, band: { low: 12, high: 25 }, temperature: course(24, 0, 17, (day) => bell(day, 1.2, 2.2, 9)), outside: [{ from: daysAgo(2.1), to: fixtureNow, side: 'high' }],
      changes: changes(22, 20, 18, 11, 4), tastings: tastings([10, 5], [4, 3]), forecast: forecast(-1, 3, 7),
    }),
  }),
  fermenting: drum('barrel-4', 'Barrel 4', {
    now: {
      temperature: temperatureNow(16.6, { trendPerHour: -0.1 }),
      ph: { value: 4.4, unit: 'pH', at: iso(daysAgo(2)), ageS: 172_800, quality: 'good', uncertainty: 0.1, trendPerHour: null, source: 'person' },
      salinity: { absent: 'no-probe' },
    },
    batch: batch('barrel-4', 'ST27-D7', 24, { cut: 'whole', style: 'kept-brine', stage: 'ferment', forecast: forecast(37, 45, 52) }),
    nextTask: task('barrel-4', 'ST27-D7', 'measure-ph', 'Measure pH', 'Measure the pH of Barrel 4, mid-depth, with a meter checked today.', 6 * 24),
    ribbon: ribbon(24, { to: fixtureNow + 52 * dayMs, tastings: tastings([6, 9]), forecast: forecast(37, 45, 52) }),
  }),
  silent: drum('barrel-5', 'Barrel 5', {
    flag: { state: 'unknown', word: 'silent' },
    now: { temperature: temperatureNow(16.8, { at: iso(fixtureNow - 612 * minuteMs), ageS: 36_720, quality: 'stale', trendPerHour: null }), ph: { absent: 'no-reading' }, salinity: { absent: 'no-probe' } },
    batch: batch('barrel-5', 'ST27-E1', 16, { variety: 'Leccino', forecast: forecast(19, 27, 37) }), alerts: [silentAlert],
    ribbon: ribbon(15, { to: fixtureNow + 37 * dayMs, temperature: course(15, 0.5, 16.8), gaps: [{ from: daysAgo(9), to: daysAgo(7.8) }, { from: daysAgo(0.43), to: fixtureNow }], changes: changes(13, 11, 9, 2), forecast: forecast(19, 27, 37) }),
  }),
  crock: drum('crock', 'Crock', {
    volumeL: 20, now: { temperature: temperatureNow(17.3, { trendPerHour: 0 }), ph: { absent: 'no-probe' }, salinity: { absent: 'no-probe' } },
    batch: batch('crock', 'ST27-F5', 6, { cut: 'cracked', style: 'water-then-brine', variety: 'Frantoio', stage: 'soak', saltGPerL: 0, fruitKg: 11, brineL: 9, forecast: forecast(1, 3, 6) }),
    nextTask: task('crock', 'ST27-F5', 'change-water', 'Change water', 'Change the water in Crock: 9 L. In plain water this is hygiene, not only speed.', -20, { needs: { brineL: 9 } }),
    ribbon: ribbon(5.5, { to: fixtureNow + 6 * dayMs, temperature: course(5.5, 0, 17), changes: changes(4.6, 3.6, 2.6, 1.6, 0.6), tastings: tastings([1.5, 6], [1, 6], [0.3, 5]), forecast: forecast(1, 3, 6) }),
  }),
  broken: drum('barrel-7', 'Barrel 7', {
    flag: { state: 'unknown', word: 'faulty' },
    now: { temperature: temperatureNow(-127, { quality: 'disconnected', trendPerHour: null, at: iso(fixtureNow - 30 * minuteMs) }), ph: { absent: 'no-reading' }, salinity: { absent: 'no-probe' } },
    batch: batch('barrel-7', 'ST27-G3', 12, { variety: 'Picual' }),
    nextTask: task('barrel-7', 'ST27-G3', 'taste', 'Taste', 'Taste Barrel 7: five fruit from three depths, rinsed. Not if anything smells or looks wrong.', 40),
    ribbon: ribbon(11, { gaps: [{ from: daysAgo(0.02), to: fixtureNow }], changes: changes(9, 7, 5) }),
  }),
  danger: drum('barrel-8', 'Barrel 8 by the south door', {
    flag: { state: 'danger', word: 'hot' },
    now: { temperature: temperatureNow(31.2, { trendPerHour: 1.4 }), ph: { value: 4.8, unit: 'pH', at: iso(fixtureNow - 5 * hourMs), ageS: 18_000, quality: 'good', uncertainty: 0.1, trendPerHour: null, source: 'person' }, salinity: { absent: 'no-probe' } },
    batch: batch('barrel-8', 'ST27-H8', 20, { cut: 'whole', variety: 'Frantoio', style: 'kept-brine', stage: 'ferment' }),
    alerts: [{ ...warmAlert, id: 'range-brine-hot-barrel-8-1', drum: 'barrel-8', lot: 'ST27-H8', rule: 'ferment-temperature-danger', priority: 'high', value: 31.2, peak: 31.2, act: 'Cool the drum now', limit: { ...warmAlert.limit, value: 30 }, text: 'Brine is too warm: 31.2 ± 0.5 °C, limit 30 °C.', advice: 'Cool the drum now: shade, wet sacks, onto the floor, sealed bottles of ice. Measure pH and salt today; do not taste to find out. A guide only: local rules decide.' }],
    ribbon: ribbon(19, { band: { low: 15, high: 25 }, temperature: course(19, 0, 18, (day) => bell(day, 0, 1.8, 13)), outside: [{ from: daysAgo(11.2), to: daysAgo(11), side: 'high' }, { from: daysAgo(1.7), to: fixtureNow, side: 'high' }] }),
  }),
  vacant: drum('barrel-6', 'Barrel 6', { flag: { state: 'empty', word: 'empty' }, now: { temperature: temperatureNow(15.1), ph: { absent: 'no-probe' }, salinity: { absent: 'no-probe' } } }),
} as const;

export const shedStates = ['full', 'eight', 'many', 'one', 'empty'] as const;
export type ShedState = (typeof shedStates)[number];

const rowsOf = (state: ShedState): readonly Row[] => {
  const six = [row.jarred, row.inside, row.warm, row.fermenting, row.silent, row.crock];
  const eight = [row.jarred, row.inside, row.warm, row.fermenting, row.silent, row.vacant, row.broken, row.danger];
  switch (state) {
    case 'full':
      return six;
    case 'eight':
      return eight;
    case 'many':
      return [...eight, row.crock, ...[9, 10, 11].map((number) => ({ ...row.inside, id: `barrel-${String(number)}`, name: `Barrel ${String(number)}` }))];
    case 'one':
      return [row.inside];
    case 'empty':
      return [];
  }
};

export const fixtureWall = (state: ShedState): Wall => {
  const drums = [...rowsOf(state)];
  const input: WallInput = {
    site: { name: 'Saltbush Terrace', zone: fixtureZone, keyFingerprint: '7K4D 2MQX P9RT 0V3C' }, now: iso(fixtureNow), air: state === 'empty' ? { absent: 'no-probe' } : temperatureNow(22.8), drums,
    counts: { alerts: drums.flatMap(({ alerts }) => alerts).length, dueToday: drums.filter(({ nextTask }) => nextTask !== null && Date.parse(nextTask.dueAt) < fixtureNow + 9 * hourMs).length, probes: drums.length, probesSilent: drums.filter(({ flag }) => flag.state === 'unknown').length },
  };
  return wall.parse(input);
};

export const withoutRibbon = ({ ribbon: _, ...rest }: Row): Drum => rest;

/** Tasks beside the first of each drum: due today and later in the week. */
export const fixtureTasks = (rows: readonly Pick<Row, 'id' | 'name' | 'batch'>[]): readonly Task[] =>
  rows.flatMap(({ id, name, batch: inIt }) => {
    if (inIt === null) return [];
    if (id === 'barrel-2') return [task(id, inIt.lot, 'taste', 'Taste', `Taste ${name}: five fruit from three depths, rinsed. Not if anything smells or looks wrong.`, -2, { overdue: false })];
    if (id === 'barrel-3') return [task(id, inIt.lot, 'taste', 'Taste', `Taste ${name}: five fruit from three depths, rinsed. Not if anything smells or looks wrong.`, 44)];
    if (id === 'barrel-1') return [task(id, inIt.lot, 'review', 'Review the record', `The rest of the jars from ${name} is over: look at every lid and read the record before any jar leaves.`, -6, { overdue: false })];
    return [];
  });
