import { afterAll, expect, it } from 'vitest';
import { hourMs } from '#contract';
import { toRfc3339 } from '#domain/units/time.ts';
import { openApiHarness, tenDaysMs } from '../helpers/api-harness.ts';

const harness = await openApiHarness({ zone: 'Europe/Rome' });
afterAll(() => harness.close());

it('a drum without any probe is measured by hand: the task is done by the reading, which is current until the next round', async () => {
  const helper = await harness.as('helper');
  const owner = await harness.as('owner');
  await owner.call('addDrum', { body: { id: 'crock', name: 'Crock', volumeL: 20 } });
  const startedAt = toRfc3339(harness.clock.now() - tenDaysMs);
  const { lot } = await owner.call('openBatch', { body: { drum: 'crock', pickedAt: startedAt, startedAt, cut: 'slit', style: 'changed-brine', maturity: 'green', fruitKg: 9, brineL: 8, saltGPerL: 100 } });
  const crock = () => owner.call('drum', { params: { drum: 'crock' } });
  expect(await crock()).toMatchObject({ flag: { state: 'unknown', word: 'no probe' }, now: { temperature: { absent: 'no-probe' } } });

  // 14:00 in Rome: this morning's round is open.
  const open = (await helper.call('tasks')).tasks.find(({ kind }) => kind === 'measure-temperature');
  expect(open).toMatchObject({ lot, dueAt: '2026-10-03T06:00:00.000Z', overdue: false, title: 'Measure the temperature' });
  const { entry } = await helper.call('finishTask', { params: { id: open?.id ?? '' }, body: { value: 19.5, instrument: 'kitchen-thermometer' } });
  expect(entry).toMatchObject({ kind: 'measured', by: 'helper', body: { quantity: 'temperature', value: 19.5, instrument: 'kitchen-thermometer' } });
  expect(await crock()).toMatchObject({ flag: { state: 'inside' }, now: { temperature: { value: 19.5, source: 'person', quality: 'good' } } });
  expect((await helper.call('tasks')).tasks.find(({ kind }) => kind === 'measure-temperature')?.dueAt).toBe('2026-10-03T16:00:00.000Z');

  harness.clock.advance(17 * hourMs);
  expect((await crock()).now.temperature).toMatchObject({ value: 19.5, quality: 'stale', source: 'person' });
  expect((await crock()).flag).toEqual({ state: 'unknown', word: 'old reading' });
});
