import { dayMs, hourMs, minuteMs, routes, type Alert, type BatchDetail, type Forecast, type Limit, type NewBatch, type NewEntry, type Probe, type Readings, type RouteName, type Session, type StoryEntry, type Wall, type WhatIfAnswer } from '#contract';
import { fixtureNow, fixtureTasks, fixtureWall, fixtureZone, warmAlert, withoutRibbon, type ShedState } from './shed-fixture.ts';

/** A shed in memory that answers as the API does, for one browser at a time. Each answer is parsed by the contract before it leaves. */
export type FixtureAnswer = { readonly status: number; readonly body: unknown };
type Row = Wall['drums'][number];

const iso = (t: number): string => new Date(t).toISOString();
const refused = (status: number, code: string, title: string, detail: string, errors?: readonly { path: string; message: string }[]): FixtureAnswer => ({
  status, body: { type: `urn:brineward:${code}`, title, status, code, detail, ...(errors && { errors }) },
});

const limit = (id: string, over: Partial<Limit>): Limit => ({
  id, kind: 'range', quantity: 'temperature', unit: 'Cel', stage: null, style: null, low: null, high: null, deadband: 0.5, onDelayS: 600, offDelayS: 600, priority: 'medium', source: 'invented for the fixtures', ...over,
});

export interface FixtureShed {
  readonly session: { current: Session };
  readonly announce: (listener: (name: string, data: unknown) => void) => void;
  readonly answer: (method: string, path: string, query: URLSearchParams, body: unknown, key?: string | null) => FixtureAnswer;
  /** A probe sends its first reading. */
  readonly hear: (probe: string, temperatureC: number) => void;
  readonly changeDrum: (id: string, change: (row: Row) => Row) => void;
  /** Every act written so far, as asked for. */
  readonly written: readonly unknown[];
}

export const createFixtureShed = (state: ShedState): FixtureShed => {
  const start = fixtureWall(state);
  let rows: Row[] = [...start.drums];
  let sequence = 900;
  const probes: Probe[] = [];
  const written: unknown[] = [];
  const listeners: ((name: string, data: unknown) => void)[] = [];
  const session = { current: { user: { name: 'owner', role: 'owner' }, setUpNeeded: false, demo: null } as Session };
  const stories = new Map<string, StoryEntry[]>();
  const further = fixtureTasks(rows);
  const settled = new Set<string>();
  const keyed = new Map<string, StoryEntry>();
  let currentKey: string | null = null;
  const tell = (name: string, data: unknown): void => {
    for (const listener of listeners) listener(name, data);
  };

  const story = (lot: string): StoryEntry[] => {
    const known = stories.get(lot);
    if (known !== undefined) return known;
    const ribbon = rows.find((row) => row.batch?.lot === lot)?.ribbon;
    const made: StoryEntry[] = [
      ...(ribbon?.changes ?? []).map((change): StoryEntry => ({ sequence: change.sequence, kind: 'brine-changed', at: iso(change.t), writtenAt: iso(change.t), by: 'user:owner', body: { brineL: 26, saltGPerL: 67 }, standing: true, corrects: null, correctedBy: null })),
      ...(ribbon?.tastings ?? []).map((tasting): StoryEntry => ({ sequence: tasting.sequence, kind: 'tasted', at: iso(tasting.t), writtenAt: iso(tasting.t), by: 'user:helper', body: { bitterness: tasting.bitterness }, standing: true, corrects: null, correctedBy: null })),
    ];
    const first = made[0];
    if (first !== undefined) {
      made[0] = { ...first, standing: false, correctedBy: 150 };
      made.push({ ...first, sequence: 150, body: { brineL: 26, saltGPerL: 70, note: 'the scoop was heaped' }, corrects: first.sequence });
    }
    stories.set(lot, made.toSorted((a, b) => a.at.localeCompare(b.at)));
    return stories.get(lot) ?? [];
  };

  const changeDrum = (id: string, change: (row: Row) => Row): void => {
    rows = rows.map((row) => (row.id === id ? { ...change(row), revision: row.revision + 1 } : row));
    const row = rows.find((candidate) => candidate.id === id);
    if (row !== undefined) tell('drum', withoutRibbon(row));
  };

  const detail = (row: Row): BatchDetail | null =>
    row.batch === null
      ? null
      : {
          ...row.batch,
          entries: story(row.batch.lot),
          limits: [limit('brine-warm', { low: row.ribbon?.band?.low ?? 12, high: row.ribbon?.band?.high ?? 21 }), limit('ph-high', { quantity: 'ph', unit: 'pH', high: 4.6, priority: 'high' })],
          excursions: (row.ribbon?.outside ?? []).map(({ from, to }, index) => ({ alert: `${row.id}-${String(index)}`, rule: 'brine-warm', quantity: 'temperature', priority: 'medium', from: iso(from), to: to >= fixtureNow ? null : iso(to), peak: 25.6 })),
          holds: [],
          jars: null,
          trace: { picks: [], soak: null, from: null, parts: [], stays: [{ drum: row.id, from: row.batch.startedAt, to: row.batch.jarredAt }], inDrum: row.batch.jarredAt === null, brineNowL: row.batch.brineL, brineShare: 1, warnings: [] },
        };

  const write = (row: Row, entry: NewEntry): StoryEntry => {
    written.push(entry);
    const lot = row.batch?.lot ?? '';
    const { kind, ...rest } = entry;
    sequence += 1;
    if (entry.kind === 'corrected') {
      const entries = story(lot).map((known): StoryEntry => (known.sequence === entry.entry ? { ...known, standing: false, correctedBy: sequence } : known));
      const made = entry.replacement === null ? null : entry.replacement;
      const added: StoryEntry = { sequence, kind: made?.kind ?? 'corrected', at: made?.at ?? iso(fixtureNow), writtenAt: iso(fixtureNow), by: 'user:owner', body: { ...(made ?? { reason: entry.reason }) }, standing: true, corrects: entry.entry, correctedBy: null };
      stories.set(lot, made === null ? entries : [...entries, added]);
      changeDrum(row.id, (same) => same);
      return added;
    }
    const added: StoryEntry = { sequence, kind, at: entry.at, writtenAt: iso(fixtureNow), by: 'user:owner', body: rest, standing: true, corrects: null, correctedBy: null };
    stories.set(lot, [...story(lot), added].toSorted((a, b) => a.at.localeCompare(b.at)));
    changeDrum(row.id, (same) => (settlesFixture(same, entry) ? { ...same, nextTask: null } : same));
    return added;
  };

  /** As the API does: what comes again under the same key is answered and not written. */
  const once = (row: Row, entry: NewEntry): StoryEntry => {
    const before = currentKey === null ? undefined : keyed.get(currentKey);
    if (before !== undefined) return before;
    const made = write(row, entry);
    if (currentKey !== null) keyed.set(currentKey, made);
    return made;
  };

  const readings = (row: Row, query: URLSearchParams): Readings => {
    const channel = query.get('channel') ?? 'temperature';
    const from = Number(query.get('from') ?? fixtureNow - dayMs);
    const to = Number(query.get('to') ?? fixtureNow);
    const all = channel === 'temperature' ? (row.ribbon?.temperature ?? []) : channel === 'ph' ? (row.ribbon?.temperature ?? []).map(({ t }, index) => ({ t, mean: 6 - index / 60, min: 5.95 - index / 60, max: 6.05 - index / 60 })) : [];
    const points = [];
    for (const [index, point] of all.entries()) {
      const next = all[index + 1];
      // Between the fixture's quarter days, half-hours by straight line: enough to draw a day.
      for (let share = 0; share < 1; share += 1 / 12) {
        const t = point.t + share * 6 * hourMs;
        if (t < from || t > to || (row.ribbon?.gaps ?? []).some((gap) => t > gap.from && t < gap.to)) continue;
        const mean = point.mean + share * ((next?.mean ?? point.mean) - point.mean);
        points.push({ t, mean, min: mean - 0.3, max: mean + 0.3, count: 180 });
      }
    }
    return { channel, unit: channel === 'ph' ? 'pH' : 'Cel', level: '10min', points, gaps: (row.ribbon?.gaps ?? []).filter((gap) => gap.to > from && gap.from < to) };
  };

  const open = (given: NewBatch): FixtureAnswer => {
    const row = rows.find(({ id }) => id === given.drum);
    if (row === undefined) return refused(404, 'not-found', 'There is no such thing here', 'No such drum.');
    const at = given.startedAt.length === 10 ? `${given.startedAt}T00:00:00.000Z` : given.startedAt;
    changeDrum(row.id, (same) => ({
      ...same,
      flag: { state: 'inside', word: 'inside' },
      batch: { lot: 'ST27-J2', drum: given.drum, pickedAt: at, startedAt: at, cut: given.cut, style: given.style, maturity: given.maturity, variety: given.variety ?? null, trees: null, fruitKg: given.fruitKg, brineL: given.brineL, saltGPerL: given.saltGPerL, stage: given.style === 'kept-brine' ? 'ferment' : given.style === 'changed-brine' ? 'leach' : 'soak', day: 1, jarredAt: null, readyToEatAt: null, held: false, jarsLeft: null, forecast: { unknown: 'two tastings are needed before a date can be named' } },
    }));
    const made = rows.find(({ id }) => id === given.drum);
    return { status: 201, body: made === undefined ? null : detail(made) };
  };

  const answers: Partial<Record<RouteName, (ids: Readonly<Record<string, string>>, query: URLSearchParams, body: never) => FixtureAnswer>> = {
    health: () => ({ status: 200, body: { status: 'ok', version: 'fixture' } }),
    session: () => ({ status: 200, body: session.current }),
    signIn: (_, __, { name, password }: { name: string; password: string }) => {
      if (password !== 'olives') return refused(401, 'wrong-password', 'Name or password is wrong', 'Check both; capital letters count.');
      session.current = { ...session.current, user: { name, role: 'owner' } };
      return { status: 200, body: session.current };
    },
    setUp: (_, __, { code }: { code: string }) => {
      if (code !== 'brine-oak-17') return refused(403, 'wrong-setup-code', 'The set-up code is wrong', 'It stands in the terminal in which the program was started.');
      session.current = { user: { name: 'owner', role: 'owner' }, setUpNeeded: false, demo: null };
      return { status: 201, body: session.current };
    },
    signOut: () => {
      session.current = { ...session.current, user: null };
      return { status: 204, body: null };
    },
    site: () => ({ status: 200, body: { site: 'saltbush', name: 'Saltbush Terrace', zone: fixtureZone, version: 'fixture', demo: false, mqtt: { host: '192.168.4.20', port: 1883, external: false }, key: null, now: iso(fixtureNow) } }),
    wall: () => ({ status: 200, body: { ...start, drums: rows, counts: { ...start.counts, alerts: rows.flatMap(({ alerts }) => alerts).length } } }),
    drums: () => ({ status: 200, body: { drums: rows.map(withoutRibbon) } }),
    addDrum: (_, __, given: { id: string; name: string; volumeL: number; insulated?: boolean }) => {
      if (rows.some(({ id }) => id === given.id)) return refused(409, 'already-exists', 'This name is taken', `There is a drum called ${given.name} already.`);
      const made: Row = { id: given.id, name: given.name, volumeL: given.volumeL, insulated: given.insulated ?? false, flag: { state: 'empty', word: 'empty' }, now: { temperature: { absent: 'no-probe' }, ph: { absent: 'no-probe' }, salinity: { absent: 'no-probe' } }, batch: null, alerts: [], nextTask: null, revision: 1, ribbon: null };
      rows = [...rows, made];
      tell('drum', withoutRibbon(made));
      return { status: 201, body: withoutRibbon(made) };
    },
    probes: () => ({ status: 200, body: { probes } }),
    place: ({ probe = '' }, __, given: { channel: string; drum: string | null; from?: string }) => {
      const found = probes.findIndex(({ id }) => id === probe);
      const known = probes[found];
      if (known === undefined) return refused(404, 'not-found', 'There is no such thing here', 'No such probe.');
      const from = given.from ?? iso(fixtureNow);
      probes[found] = { ...known, channels: known.channels.map((channel) => (channel.channel === given.channel ? { ...channel, placement: given.drum === null ? null : { drum: given.drum, from } } : channel)) };
      const value = known.channels[0]?.last?.value ?? 18;
      if (given.drum !== null) changeDrum(given.drum, (row) => ({ ...row, now: { ...row.now, temperature: { value, unit: 'Cel', at: iso(fixtureNow), ageS: 0, quality: 'good', uncertainty: 0.5, trendPerHour: null, source: 'probe' } } }));
      return { status: 200, body: { probe, channel: given.channel, drum: given.drum, from } };
    },
    drum: ({ drum = '' }) => {
      const row = rows.find(({ id }) => id === drum);
      return row === undefined ? refused(404, 'not-found', 'There is no such thing here', 'No drum has this name.') : { status: 200, body: withoutRibbon(row) };
    },
    readings: ({ drum = '' }, query) => {
      const row = rows.find(({ id }) => id === drum);
      return row === undefined ? refused(404, 'not-found', 'There is no such thing here', 'No drum has this name.') : { status: 200, body: readings(row, query) };
    },
    picks: () => ({ status: 200, body: { picks: [] } }),
    openBatch: (_, __, given: NewBatch) => open(given),
    batch: ({ lot = '' }) => {
      const row = rows.find(({ batch }) => batch?.lot === lot);
      return row === undefined ? refused(404, 'not-found', 'There is no such thing here', 'No such batch.') : { status: 200, body: detail(row) };
    },
    whatIf: ({ lot = '' }) => {
      const forecast = rows.find(({ batch }) => batch?.lot === lot)?.batch?.forecast ?? { unknown: 'no such batch' };
      return { status: 200, body: { asPlanned: forecast, whatIfs: whatIfsOf(forecast), source: 'A leaching model. It says nothing about safety.' } };
    },
    tasks: () => ({ status: 200, body: { tasks: [...rows.flatMap(({ nextTask }) => nextTask ?? []), ...further].filter(({ id }) => !settled.has(id)).toSorted((a, b) => a.dueAt.localeCompare(b.dueAt)) } }),
    skipTask: ({ id = '' }, __, { reason }: { reason: string }) => {
      const row = rows.find(({ nextTask }) => nextTask?.id === id);
      const task = row?.nextTask ?? further.find((each) => each.id === id && !settled.has(id));
      if (task === undefined || task === null) return refused(404, 'not-found', 'There is no such thing here', 'No such task.');
      settled.add(id);
      written.push({ kind: 'task-skipped', task: id, reason });
      if (row !== undefined) changeDrum(row.id, (same) => ({ ...same, nextTask: null }));
      tell('task', { id, gone: true });
      return { status: 200, body: { task } };
    },
    addEntry: ({ lot = '' }, __, entry: NewEntry) => {
      const row = rows.find(({ batch }) => batch?.lot === lot);
      return row === undefined ? refused(404, 'not-found', 'There is no such thing here', 'No such batch.') : { status: 201, body: once(row, entry) };
    },
    finishTask: ({ id = '' }, __, entry: NewEntry) => {
      const task = rows.find(({ nextTask }) => nextTask?.id === id)?.nextTask ?? further.find((each) => each.id === id && !settled.has(id));
      const row = rows.find((each) => each.id === task?.drum);
      if (task == null || row === undefined || settled.has(id)) return refused(404, 'not-found', 'There is no such thing here', 'No such task.');
      settled.add(id);
      tell('task', { id, gone: true });
      return { status: 200, body: { task, entry: 'kind' in entry ? once(row, entry) : null } };
    },
    acknowledge: ({ id = '' }) => {
      const row = rows.find(({ alerts }) => alerts.some((alert) => alert.id === id));
      const known = row?.alerts.find((alert) => alert.id === id);
      if (row === undefined || known === undefined) return refused(404, 'not-found', 'There is no such thing here', 'No such alert.');
      const seen: Alert = { ...known, state: 'acknowledged', acknowledgedBy: 'user:owner' };
      changeDrum(row.id, (same) => ({ ...same, alerts: same.alerts.map((alert) => (alert.id === id ? seen : alert)) }));
      tell('alert', seen);
      return { status: 200, body: seen };
    },
  };

  return {
    session,
    written,
    announce: (listener) => listeners.push(listener),
    changeDrum,
    hear: (id, temperatureC) => {
      const last = { value: temperatureC, at: iso(fixtureNow), ageS: 1, quality: 'good' };
      probes.push({ id, channels: [{ channel: 'temperature', unit: 'Cel', last, count: 1, placement: null }], presence: 'unknown', calibrations: [], health: 'ok', hasPassword: false, clock: null });
    },
    answer: (method, path, query, body, mark = null) => {
      currentKey = mark;
      for (const [name, route] of Object.entries(routes)) {
        const match = new RegExp(`^/api${route.path.replace(/\{(\w+)\}/g, '(?<$1>[^/]+)')}$`).exec(path);
        if (match === null || route.method !== method.toLowerCase()) continue;
        const run = answers[name as RouteName];
        if (run === undefined) break;
        if (route.roles !== 'open' && session.current.user === null) return refused(401, 'not-signed-in', 'Sign in first', 'The session has ended.');
        let given = body;
        if ('body' in route) {
          const parsed = route.body.safeParse(body);
          if (!parsed.success) return refused(422, 'does-not-fit', 'The request does not fit', 'See the fields.', parsed.error.issues.map((issue) => ({ path: issue.path.join('.'), message: issue.message })));
          given = parsed.data;
        }
        const ids = Object.fromEntries(Object.entries(match.groups ?? {}).map(([key, value]) => [key, decodeURIComponent(value)]));
        const answer = run(ids, query, given as never);
        return route.answer !== null && answer.status < 300 ? { status: answer.status, body: route.answer.parse(answer.body) } : answer;
      }
      return refused(404, 'not-found', 'There is no such thing here', `${method} ${path}`);
    },
  };
};

const settlesFixture = ({ nextTask }: Row, entry: NewEntry): boolean =>
  (entry.kind === 'brine-changed' && nextTask?.kind.startsWith('change-') === true) || (entry.kind === 'tasted' && nextTask?.kind === 'taste') || (entry.kind === 'measured' && nextTask?.kind === 'measure-ph');

/** As a probe would bring it about: a drum grows warm while somebody looks. */
export const growWarm = (row: Row): Row => ({
  ...row,
  flag: { state: 'caution', word: 'warm' },
  alerts: [{ ...warmAlert, id: `brine-warm-${row.id}`, drum: row.id, lot: row.batch?.lot ?? null, since: iso(fixtureNow - minuteMs), raisedAt: iso(fixtureNow), value: 26.1, peak: 26.1, text: 'Brine is too warm: 26.1 ± 0.5 °C, limit 25 °C.' }],
  now: { ...row.now, temperature: { value: 26.1, unit: 'Cel', at: iso(fixtureNow), ageS: 0, quality: 'good', uncertainty: 0.5, trendPerHour: 0.9, source: 'probe' } },
});

const whatIfsOf = (forecast: Forecast): WhatIfAnswer['whatIfs'] => {
  if ('unknown' in forecast) return [];
  const shifted = (days: number): Forecast => {
    const shift = (at: string): string => iso(Date.parse(at) + days * dayMs);
    return { readyFrom: shift(forecast.readyFrom), readyLikely: shift(forecast.readyLikely), readyTo: shift(forecast.readyTo), basis: forecast.basis };
  };
  return [
    { title: '2 °C warmer', warmerC: 2, changes: 'as-planned', forecast: shifted(-3), laterDays: -3, caution: 'Warm fruit softens and spoils sooner: the limits of the drum stand.' },
    { title: 'Next change left out', warmerC: 0, changes: 'skip-next', forecast: shifted(2), laterDays: 2, caution: null },
  ];
};
