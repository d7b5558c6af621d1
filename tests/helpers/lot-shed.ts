import { openSiteKey, type SiteKey } from '#collector';
import type { RouteBody } from '#contract';
import { dayMs, hourMs, toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { openShed, tenDaysMs, type ApiHarness } from './api-harness.ts';
import { valueOf } from './value-of.ts';

/** The key of the site, as the collector makes it at its first start. */
export const makeSiteKey = (harness: ApiHarness): SiteKey => valueOf(openSiteKey(harness.directory, true));

/** A slope of 58.2 mV, 98 % of what theory gives at 25 °C, with a second bottle of the acid buffer: a meter in good order. */
const goodBuffers = [{ ph: 4.01, mv: 174 }, { ph: 4, mv: 174.6 }, { ph: 7, mv: 0 }];

type Entry = RouteBody<'addEntry'>;

/** Writes an act of a lot at a time, as somebody who stands at the drum with a phone. */
export const act = async (harness: ApiHarness, lot: string, at: EpochMs, body: { readonly kind: string } & Readonly<Record<string, unknown>>): Promise<number> => {
  harness.clock.set(Math.max(harness.clock.now(), at));
  const { sequence } = await (await harness.as('owner')).call('addEntry', { params: { lot }, body: { at: toRfc3339(at), ...body } as Entry });
  return sequence;
};

/**
 * A lot with a whole story: a probe whose ice point was checked, readings with a gap and a warm day, brine changed, a measurement
 * corrected, one written down late, the fruit sweet, packed with acid, measured in two jars and again, and some of it sold.
 */
export const storyOfLot = async (harness: ApiHarness): Promise<string> => {
  const start = harness.clock.now() - tenDaysMs;
  const owner = await harness.as('owner');
  const calibrate = (probe: string, at: EpochMs, body: RouteBody<'calibrate'>): Promise<unknown> => {
    harness.clock.set(Math.max(harness.clock.now(), at));
    return owner.call('calibrate', { params: { probe }, body: { at: toRfc3339(at), ...body } as RouteBody<'calibrate'> });
  };
  const lot = await openShed(harness, { variety: 'Κορωνέικη', trees: 'row 3', startedAt: toRfc3339(start), pickedAt: toRfc3339(start - 6 * hourMs) });
  await calibrate('p1', harness.clock.now(), { kind: 'ice-point', readingC: 0.2, referenceC: 0 });
  const hourly = (from: number, to: number, valueC: number): Promise<void> => harness.read('p1', Array.from({ length: (to - from) * 6 }, (_, index) => valueC + (index % 5) / 10), { until: start + to * hourMs, everyMs: hourMs / 6 });
  await hourly(1, 100, 18);
  await hourly(131, 140, 26.5);
  await hourly(140, 239, 17);
  const at = (days: number): EpochMs => start + days * dayMs;
  const wrong = await act(harness, lot, at(5), { kind: 'measured', quantity: 'salinity', value: 8, instrument: 'refractometer' });
  await owner.call('addEntry', { params: { lot }, body: { kind: 'corrected', entry: wrong, reason: 'per cent written for g/L', replacement: { kind: 'measured', at: toRfc3339(at(5)), quantity: 'salinity', value: 80, instrument: 'refractometer' } } as Entry });
  await act(harness, lot, at(10), { kind: 'brine-changed', brineL: 27, saltGPerL: 100, note: 'cloudy <before>, "clear" after & good' });
  await act(harness, lot, at(10.1), { kind: 'tasted', bitterness: 1 });
  await act(harness, lot, at(10.2), { kind: 'measured', quantity: 'ph', value: 4.1, instrument: 'meter-1' });
  await calibrate('meter-1', at(10.3), { kind: 'ph', points: goodBuffers, temperatureC: 25 });
  await act(harness, lot, at(10.35), { kind: 'measured', quantity: 'ph', value: 3.9, instrument: 'meter-1' });
  await act(harness, lot, at(10.4), { kind: 'jarred', jars: 48, jarMl: 680, brine: '8 % salt', acid: '5 % vinegar, 60 mL a jar', ingredients: ['olives', 'water', 'salt', 'vinegar'] });
  for (const [day, values] of [[12, [4.05, 4.08]], [15, [4.06, 4.08]]] as const) {
    await calibrate('meter-1', at(day), { kind: 'ph', points: goodBuffers, temperatureC: 25 });
    for (const [index, value] of values.entries()) await act(harness, lot, at(day) + (index + 1) * hourMs, { kind: 'jar-ph', value, instrument: 'meter-1', jar: String(index + 1) });
  }
  await act(harness, lot, at(15.2), { kind: 'release', by: 'Maria' });
  await act(harness, lot, at(16), { kind: 'distributed', to: 'Saturday market', jars: 31 });
  return lot;
};
