import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { readConfig } from '../../collector/config.ts';

const directory = mkdtempSync(join(tmpdir(), 'brineward-'));
afterAll(() => rmSync(directory, { recursive: true, force: true }));
const fromFile = (content: object) => {
  const file = join(directory, 'settings.json');
  writeFileSync(file, JSON.stringify(content));
  return readConfig(['--config', file], {});
};
const messageOf = (read: ReturnType<typeof readConfig>): string => (read.ok ? '' : read.error.message);
const registers = [{ unit: 1, function: 4, address: 0, scale: 0.1, probe: 'barrel-1', channel: 'temperature', every: 60 }, { unit: 2, function: 3, address: '10', type: 'float32', probe: 'barrel-2', channel: 'ph' }];

describe('cables and buses in the settings', () => {
  it('come as options, repeated', () => {
    const read = readConfig(['--serial', 'path=/dev/ttyUSB0,probe=barrel-1', '--serial', 'path=/dev/ttyUSB1,format=1-wire', '--modbus', 'tcp://host,function=4,address=0,probe=barrel-3,channel=ph'], {});
    expect(read.ok && read.value.serial.map(({ path, format }) => `${path} ${format}`)).toEqual(['/dev/ttyUSB0 lines', '/dev/ttyUSB1 1-wire']);
    expect(read.ok && read.value.modbus.map(({ name, registers: { length } }) => `${name} ${length}`)).toEqual(['tcp://host 1']);
  });
  it('come from the environment and from the file, where a bus may be written out', () => {
    expect(readConfig([], { BRINEWARD_SERIAL: 'path=/dev/ttyUSB0,probe=barrel-1' })).toMatchObject({ ok: true, value: { serial: [{ path: '/dev/ttyUSB0' }] } });
    const read = fromFile({ serial: ['path=/dev/ttyUSB0'], modbus: [{ bus: 'tcp://host:1502', timeout: 500, registers }, 'tcp://host:1502,function=4,address=7,probe=barrel-3,channel=ph'] });
    expect(read).toMatchObject({ ok: true, value: { modbus: [{ name: 'tcp://host:1502', timeoutMs: 1_000, registers: [{ unit: 1, scale: 0.1, type: 'int16' }, { unit: 2, address: 10, type: 'float32' }, { address: 7 }] }] } });
  });
  it('that are wrong say in one line what to correct', () => {
    expect(messageOf(readConfig(['--serial', 'path=/dev/ttyUSB0,baud=fast'], {}))).toBe('--serial: baud must be a whole number from 50 to 4000000. Correct it, or leave it out.');
    expect(messageOf(readConfig(['--serial', 'path=/dev/a', '--serial', 'path=/dev/a'], {}))).toContain('/dev/a is given twice');
    expect(messageOf(readConfig(['--modbus', 'tcp://host'], {}))).toContain('--modbus: a bus and a register are needed');
    expect(messageOf(fromFile({ modbus: [{ bus: 'tcp://host', registers: [{ ...registers[0], function: 6 }] }] }))).toContain('modbus: function must be 3');
    expect(messageOf(fromFile({ modbus: [{ bus: 'tcp://host', registers: [] }] }))).toContain('at least one register');
    expect(messageOf(fromFile({ serial: 7 }))).toContain('must be a line');
  });
});
