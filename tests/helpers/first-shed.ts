/** What the first person does after installing: a probe speaks, a drum, a placement, a batch. */
import type { RouteAnswer } from '#contract';
import type { Caller } from './caller.ts';
import { until } from './until.ts';

export const firstProbe = 'probe-1';
export const temperatureTopic = (site = 'home', probe = firstProbe): string => `brineward/${site}/probe/${probe}/temperature`;
export const packTopic = (site = 'home', probe = firstProbe): string => `brineward/${site}/probe/${probe}`;

/** A SenML pack (RFC 8428) of temperatures; times in seconds. */
export const pack = (records: readonly { readonly t: number; readonly v: number }[], unit = 'Cel'): string => JSON.stringify(records.map(({ t, v }) => ({ n: 'temperature', u: unit, t, v })));

export const probeSeen = (owner: Caller, probe = firstProbe): Promise<RouteAnswer<'probes'>['probes'][number]> =>
  until(`${probe} is listed`, async () => (await owner.call('probes')).probes.find(({ id }) => id === probe));

/** A drum of whole olives kept in brine, begun two days ago, watched by the first probe from then on. Answers the lot. */
export const setUpDrum = async (owner: Caller): Promise<string> => {
  const startedAt = new Date(Date.now() - 2 * 86_400_000).toISOString();
  await owner.call('addDrum', { body: { id: 'barrel-1', name: 'Barrel 1', volumeL: 60 } });
  await owner.call('place', { params: { probe: firstProbe }, body: { channel: 'temperature', drum: 'barrel-1', from: startedAt } });
  const { lot } = await owner.call('openBatch', { body: { drum: 'barrel-1', pickedAt: startedAt, startedAt, cut: 'whole', style: 'kept-brine', maturity: 'black', fruitKg: 35, brineL: 25, saltGPerL: 90 } });
  return lot;
};
