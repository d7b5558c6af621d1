import { afterAll, expect, test } from 'vitest';
import { layCable } from '../helpers/cable.ts';
import { signIn } from '../helpers/caller.ts';
import { devicesOverTcp } from '../helpers/modbus-devices.ts';
import { createPlace } from '../helpers/running.ts';
import { until } from '../helpers/until.ts';

const place = createPlace();
afterAll(place.clear);

test('the whole program takes readings from a cable and a bus, shows both in health, and starts without a third', async () => {
  const cable = await layCable(place.directory());
  place.keep(cable.unplug);
  const devices = await devicesOverTcp({ 7: { 0: 172 } });
  place.keep(devices.close);
  const bus = `tcp://127.0.0.1:${devices.port}`;
  const absent = `${cable.path}-absent`;
  const shed = await place.start({ options: ['--serial', `path=${cable.path},probe=barrel-2`, '--serial', `path=${absent},format=1-wire`, '--modbus', `${bus},unit=7,function=4,address=0,scale=0.1,probe=barrel-7,channel=temperature,every=1`] });
  const owner = await signIn(shed);
  const sourceNamed = async (name: string) => (await owner.call('health')).sources?.find((source) => source.name === name);
  await until('the cable is open', async () => (await sourceNamed(cable.path))?.state === 'ok');
  // The newline in front: the program cannot know that the cable was quiet before it opened it.
  await cable.say('\ntemperature 18.25\nwarmth 3\n');
  const probes = await until('both probes are seen', async () => {
    const seen = (await owner.call('probes')).probes;
    return ['barrel-2', 'barrel-7'].every((id) => seen.some((probe) => probe.id === id)) ? seen : null;
  });
  expect(probes.find(({ id }) => id === 'barrel-2')?.channels).toMatchObject([{ channel: 'temperature', last: { value: 18.25 } }]);
  expect(probes.find(({ id }) => id === 'barrel-7')?.channels).toMatchObject([{ channel: 'temperature', last: { value: 17.2 } }]);
  const health = await until('health tells of all three', async () => {
    const told = await owner.call('health');
    return told.readings?.refused['line-channel'] === 1 ? told : null;
  });
  expect(health).toMatchObject({ status: 'degraded', collector: { status: 'ok' } });
  expect(health.sources).toMatchObject([{ kind: 'serial', name: cable.path, state: 'ok', readings: 1, refused: { 'line-channel': 1 } }, { kind: 'serial', name: absent, state: 'lost' }, { kind: 'modbus', name: bus, state: 'ok', units: [{ unit: 7, state: 'ok' }] }]);
  const { code, stderr } = await shed.stop();
  expect([code, stderr]).toEqual([0, expect.not.stringContaining('"level":50')]);
}, 120_000);
