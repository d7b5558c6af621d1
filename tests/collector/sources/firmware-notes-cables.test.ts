import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readConfig } from '../../../collector/config.ts';
import { parseModbusSpec, readBus, type RegisterText } from '../../../collector/sources/modbus/spec.ts';
import { createSerialDecoder } from '../../../collector/sources/serial/decoder.ts';
import { parseSerialSpec } from '../../../collector/sources/serial/spec.ts';

/** What the pages on cables and buses promise is what the program does. */
const page = (name: string): string => readFileSync(new URL(`../../../firmware-notes/${name}`, import.meta.url), 'utf8');
const blocks = (name: string, mark: string) => [...page(name).matchAll(new RegExp(`^\`\`\`${mark}(?: (\\S+))?\\n([\\s\\S]*?)^\`\`\`$`, 'gm'))].map(([, spec = '', content = '']) => ({ spec, content }));
const now = Date.UTC(2026, 4, 3, 6);

describe('the page on serial cables', () => {
  const text = blocks('serial.md', 'serial').map(({ spec, content }) => ({ spec, bytes: Buffer.from(content) }));
  const hex = blocks('serial.md', 'serial-hex').map(({ spec, content }) => ({ spec, bytes: Buffer.from(content.replaceAll(/\s/g, ''), 'hex') }));
  const examples = [...text, ...hex];
  it('has an example of each form', () => {
    expect(examples.length).toBe(4);
  });
  it.each(examples)('$spec: its example is taken whole', ({ spec, bytes }) => {
    const parsed = parseSerialSpec(spec);
    if (!parsed.ok) throw new Error(parsed.error);
    const decoded = createSerialDecoder(parsed.value, false).push(bytes, now);
    expect(decoded.flatMap(({ refused, aside }) => [...refused, ...aside])).toEqual([]);
    const readings = decoded.flatMap((item) => item.readings);
    expect(readings.length).toBeGreaterThan(0);
    expect(readings.every(({ quality }) => quality === 'good')).toBe(true);
  });
  it('shows an option that the program takes', () => {
    const [, line = ''] = /--serial (path=\S+)/.exec(page('serial.md')) ?? [];
    expect(readConfig(['--serial', line], {})).toMatchObject({ ok: true, value: { serial: [{ path: '/dev/ttyUSB0', probe: 'barrel-2' }] } });
  });
});

describe('the page on Modbus', () => {
  const lines = blocks('modbus.md', 'modbus');
  it.each(lines)('$content is a register', ({ content }) => {
    expect(parseModbusSpec(content.trim())).toMatchObject({ ok: true });
  });
  it('shows a bus written out that is read', () => {
    const settings = blocks('modbus.md', 'modbus-json').map(({ content }) => JSON.parse(content) as { readonly modbus: readonly { readonly bus: string; readonly timeout: number; readonly registers: readonly Record<string, unknown>[] }[] });
    expect(lines.length + settings.length).toBe(3);
    for (const { bus, timeout, registers } of settings.flatMap(({ modbus }) => modbus)) {
      const asText = registers.map((register) => Object.fromEntries(Object.entries(register).map(([key, value]) => [key, String(value)])) as RegisterText);
      expect(readBus(bus, String(timeout), asText)).toMatchObject({ ok: true, value: { timeoutMs: 500, registers: [{ unit: 1 }, { unit: 2, missing: [-32_768] }, { order: 'low-first', everyS: 300 }] } });
    }
  });
});
