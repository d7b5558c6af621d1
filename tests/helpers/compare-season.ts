import type { RouteBody } from '#contract';
import { dayMs, hourMs, toRfc3339, type EpochMs } from '#domain/units/time.ts';
import type { ApiHarness } from './api-harness.ts';

/** An invented finished cure: one temperature throughout, tasted bitter `gapDays` before it was tasted sweet. */
export interface SeasonCure {
  readonly temperatureC: number;
  readonly days: number;
  readonly gapDays?: number;
  /** The last score; 1 is sweet. */
  readonly score?: number;
  readonly changeDays?: readonly number[];
  /** How much of the cure the probe measured. */
  readonly measured?: number;
  readonly jarred?: boolean;
  readonly batch?: Partial<RouteBody<'openBatch'>>;
}

/** The synthetic six that lie near one Arrhenius line; no published cures with temperatures and days were found. */
export const syntheticSix: readonly SeasonCure[] = [[12, 46], [14, 41], [16, 33], [18, 31], [21, 24], [24, 21]].map(([temperatureC = 0, days = 0]) => ({ temperatureC, days }));

/** Writes a cure as a grower would, with hourly readings of a probe of its own; it ends `daysAgo` days ago. Answers the lot. */
export const writeCure = async (harness: ApiHarness, number: number, cure: SeasonCure, daysAgo = 1): Promise<string> => {
  const { temperatureC, days, gapDays, score = 1, changeDays = [], measured = 1, jarred = true, batch = {} } = cure;
  const owner = await harness.as('owner');
  const end = harness.clock.now() - daysAgo * dayMs;
  const start = end - days * dayMs;
  const [drum, probe] = [`barrel-${String(number)}`, `p${String(number)}`];
  const on = (day: number): string => toRfc3339(start + day * dayMs);
  await owner.call('addDrum', { body: { id: drum, name: `Barrel ${String(number)}`, volumeL: 60 } });
  if (measured > 0) {
    await readings(harness, probe, temperatureC, start, start + measured * days * dayMs);
    await owner.call('place', { params: { probe }, body: { channel: 'temperature', drum, from: on(-1) } });
  }
  const { lot } = await owner.call('openBatch', { body: { drum, pickedAt: on(0), startedAt: on(0), cut: 'slit', style: 'changed-brine', maturity: 'green', fruitKg: 30, brineL: 27, saltGPerL: 80, ...batch } });
  const add = (body: RouteBody<'addEntry'>) => owner.call('addEntry', { params: { lot }, body });
  for (const day of changeDays) await add({ kind: 'brine-changed', at: on(day), brineL: 27, saltGPerL: 80 });
  if (gapDays !== undefined) await add({ kind: 'tasted', at: on(days - gapDays), bitterness: 4 });
  await add({ kind: 'tasted', at: on(days), bitterness: score });
  if (jarred) harness.collectorWrites({ kind: 'jarred', body: { lot, at: toRfc3339(end + hourMs), jars: 40, jarMl: 500, brine: '8 %', acid: 'vinegar', ingredients: ['olives', 'water', 'salt', 'vinegar'] } });
  return lot;
};

const readings = (harness: ApiHarness, probe: string, value: number, from: EpochMs, to: EpochMs): Promise<void> =>
  harness.read(probe, Array.from({ length: Math.floor((to - from) / hourMs) + 1 }, () => value), { until: to, everyMs: hourMs });
