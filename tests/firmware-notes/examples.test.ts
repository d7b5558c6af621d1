import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Reading } from '#domain/reading/reading.ts';
import { crc8 } from '#domain/sensor/crc8.ts';
import { toRfc3339 } from '#domain/units/time.ts';
import { decodeMessage } from '../../collector/sources/payload.ts';
import { systemPart } from '../helpers/system-parts.ts';

/** The two example probes, in C and in MicroPython, run on a board of paper: what they send is what the program takes in. */
const examples = fileURLToPath(new URL('../../firmware-notes/examples/', import.meta.url));
const start = Date.UTC(2026, 4, 3, 6, 0, 0) / 1_000;
let folder = '';
const probes: { readonly name: string; readonly run: (script: string) => string }[] = [
  { name: 'C', run: (script) => outputOf(join(folder, 'probe'), ['home', 'barrel-1'], script) },
  { name: 'MicroPython', run: (script) => outputOf(systemPart('python3'), ['-B', join(examples, 'board_stub.py'), 'home', 'barrel-1'], script) },
];

const outputOf = (command: string, args: readonly string[], input: string): string => {
  const { status, stdout, stderr } = spawnSync(command, args, { input, encoding: 'utf8' });
  if (status !== 0) throw new Error(`${command} ended with ${status}: ${stderr}`);
  return stdout;
};

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'example-'));
  outputOf(systemPart('gcc'), ['-std=c99', '-Wall', '-Wextra', '-Wconversion', '-Werror', '-pedantic', '-o', join(folder, 'probe'), join(examples, 'probe.c'), join(examples, 'board_stub.c')], '');
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** A scratchpad as the sensor sends it: temperature, alarm registers, configuration (12 bits), reserved bytes, check sum. */
const frame = (raw: number, { configuration = 0x7f, spoil = 0 } = {}): string => {
  const bytes = [raw & 0xff, raw >> 8 & 0xff, 0x4b, 0x46, configuration, 0xff, 0x0c, 0x10];
  return Buffer.from([...bytes, crc8(Uint8Array.from(bytes)) ^ spoil]).toString('hex');
};

const sent = (output: string): { readonly messages: readonly (readonly Reading[])[]; readonly waiting: number; readonly dropped: number } => {
  const lines = output.trim().split('\n').map((line): [string, string] => [line.slice(0, line.indexOf('\t')), line.slice(line.indexOf('\t') + 1)]);
  const messages = lines.slice(0, -2).map(([topic, payload]) => {
    const decoded = decodeMessage('home', topic, new TextEncoder().encode(payload), (start + 10_000_000) * 1_000);
    expect(decoded.refused).toEqual([]);
    expect(decoded.aside).toEqual([]);
    return decoded.readings;
  });
  return { messages, waiting: Number(lines.at(-2)?.[1]), dropped: Number(lines.at(-1)?.[1]) };
};

describe.each(probes)('the example probe in $name', ({ run }) => {
  // DS18B20 data sheet, table 1 (temperature and data). +85 is also its value after power-on, and is marked so when it arrives.
  it.each([
    [125, 0x07d0, 'out-of-range'], [85, 0x0550, 'power-on'], [25.0625, 0x0191, 'good'], [10.125, 0x00a2, 'good'], [0.5, 0x0008, 'good'], [0, 0x0000, 'good'],
    [-0.5, 0xfff8, 'good'], [-10.125, 0xff5e, 'good'], [-25.0625, 0xfe6f, 'out-of-range'], [-55, 0xfc90, 'out-of-range'],
  ] as const)('sends %d °C for the published data %i, which is taken as %s', (temperatureC, raw, quality) => {
    const { messages, waiting } = sent(run(`${start} 1 ${frame(raw)}\n`));
    expect(messages).toEqual([[{ series: 'barrel-1/temperature', at: start * 1_000, value: temperatureC, quality }]]);
    expect(waiting).toBe(0);
  });

  it('sends no temperature for a frame that is spoilt, all zeros, or not there, nor without a clock', () => {
    const { messages, waiting } = sent(run(`${start} 1 ${frame(0x0126, { spoil: 1 })}\n${start + 600} 1 ${'00'.repeat(9)}\n${start + 1_200} 1 none\n0 1 ${frame(0x0126)}\n`));
    expect(messages).toEqual([]);
    expect(waiting).toBe(0);
  });

  it('leaves out the bits that a resolution of nine bits leaves undefined', () => {
    expect(sent(run(`${start} 1 ${frame(0x0127, { configuration: 0x1f })}\n`)).messages[0]?.[0]?.value).toBe(18);
  });

  it('keeps through an outage, sends the newest first and then the rest in order, and says what it had to drop', () => {
    const rounds = 1_200;
    const script = Array.from({ length: rounds }, (_, round) => `${start + 600 * round} ${round === rounds - 1 ? 1 : 0} ${frame(0x0100 + round % 64)}`).join('\n');
    const { messages, waiting, dropped } = sent(run(`${script}\n`));
    const [newest, ...rest] = messages;
    expect(newest?.map(({ at }) => toRfc3339(at))).toEqual([toRfc3339((start + 600 * (rounds - 1)) * 1_000)]);
    const times = rest.flat().map(({ at }) => at);
    expect(times).toEqual(Array.from({ length: 1_151 }, (_, index) => (start + 600 * (rounds - 1_152 + index)) * 1_000));
    expect(rest.flat().map(({ value }) => value)).toEqual(times.map((at) => (0x0100 + ((at / 1_000 - start) / 600) % 64) / 16));
    expect({ waiting, dropped }).toEqual({ waiting: 0, dropped: rounds - 1_152 });
  });
});
