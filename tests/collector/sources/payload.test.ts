import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decodeMessage, mostPayloadBytes } from '../../../collector/sources/payload.ts';

const now = Date.UTC(2026, 4, 3, 6, 0, 0);
const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);
const decode = (topic: string, payload: string | Uint8Array) => decodeMessage('home', `brineward/home/probe/${topic}`, typeof payload === 'string' ? bytes(payload) : payload, now);
const pack = (record: object): string => JSON.stringify([{ bn: 'probe-1:', ...record }]);

describe('decoding a message of a probe', () => {
  it('takes a plain number at its arrival', () => {
    expect(decode('probe-1/temperature', ' 18.4\n').readings).toEqual([{ series: 'probe-1/temperature', at: now, value: 18.4, quality: 'good' }]);
  });

  it('takes a SenML record at its own time, by the last segment of its name', () => {
    for (const name of ['temperature', 'x:temperature', 'x/temperature', 'urn:dev:ow:10e2073a01080063_temperature']) {
      expect(decode('probe-1', JSON.stringify([{ n: name, u: 'Cel', v: 18.25, t: -30 }])).readings).toEqual([{ series: 'probe-1/temperature', at: now - 30_000, value: 18.25, quality: 'good' }]);
    }
  });

  it.each([
    ['K', 291.55, 18.4],
    ['degF', 65.12, 18.4],
    ['Cel', 18.4, 18.4],
  ])('converts %s (0 °C = 273.15 K, 32 °F = 0 °C by definition)', (unit, value, celsius) => {
    expect(decode('probe-1', pack({ n: 'temperature', u: unit, v: value })).readings[0]?.value).toBeCloseTo(celsius, 10);
  });

  it('tells a level in metres from a level as a share', () => {
    expect(decode('p', pack({ n: 'level', u: 'm', v: 0.4 })).readings[0]?.series).toBe('p/level');
    expect(decode('p', pack({ n: 'level', u: '/', v: 0.9 })).readings[0]?.series).toBe('p/level-ratio');
  });

  it.each([
    ['battery', '%EL', 87, 'p/battery-ratio', 0.87],
    ['battery', 'mV', 2_950, 'p/battery', 2.95],
    ['signal', 'dBW', -97, 'p/signal', -67],
    ['signal', 'dBm', -67, 'p/signal', -67],
  ])('takes %s in %s (RFC 8428 section 12.1, RFC 8798 section 3) as the health of the probe', (name, unit, value, series, stored) => {
    const [reading] = decode('p', pack({ n: name, u: unit, v: value })).readings;
    expect(reading?.series).toBe(series);
    expect(reading?.value).toBeCloseTo(stored, 10);
  });

  it('keeps the good records of a pack and says why the others were refused', () => {
    const decoded = decode('probe-1', JSON.stringify([{ n: 'temperature', u: 'Cel', v: 18 }, { n: 'humidity', u: '%RH', v: 60 }, { n: 'ph', u: '%', v: 4 }, { n: 'ph', vs: 'sour' }]));
    expect(decoded.readings).toHaveLength(1);
    expect(decoded.refused).toEqual(['unknown-name', 'unknown-unit', 'not-a-number']);
  });

  it('keeps aside what cannot have been measured when it says', () => {
    expect(decode('p', pack({ n: 'ph', v: 4, t: 601 })).aside[0]?.reason).toBe('time-in-future');
    expect(decode('p', pack({ n: 'ph', v: 4, t: 599 })).readings).toHaveLength(1);
    expect(decode('p', pack({ n: 'ph', v: 4, t: Date.UTC(2019, 11, 31) / 1_000 })).aside[0]?.reason).toBe('time-before-2020');
  });

  it('marks the false values of a DS18B20 (data sheet: +85 °C after power-on) and what cannot be', () => {
    expect(decode('p/temperature', '85').readings[0]?.quality).toBe('power-on');
    expect(decode('p/temperature', '85.0').readings[0]?.quality).toBe('power-on');
    expect(decode('p/temperature', '-127.00').readings[0]?.quality).toBe('disconnected');
    expect(decode('p/temperature', '84.9375').readings[0]?.quality).toBe('out-of-range');
    expect(decode('p/ph', '14.5').readings[0]?.quality).toBe('out-of-range');
  });

  it('hears presence and how long a probe may stay quiet', () => {
    expect(decode('probe-1/presence', 'online').presence).toEqual({ probe: 'probe-1', online: true });
    expect(decode('probe-1/presence', 'offline').presence).toEqual({ probe: 'probe-1', online: false });
    expect(decode('p', pack({ n: 'ph', v: 4, ut: 900 })).quiet).toEqual([{ series: 'p/ph', updateS: 900 }]);
  });

  it.each([
    ['p/temperature', 'warm', 'not-a-number'],
    ['p/temperature', 'NaN', 'not-a-number'],
    ['p/temperature', 'Infinity', 'not-a-number'],
    ['p/temperature', '0x12', 'not-a-number'],
    ['p/temperature', '', 'empty'],
    ['p/presence', 'maybe', 'presence-word'],
    ['p/humidity', '60', 'topic-channel'],
    ['p/temperature/now', '18', 'topic-channel'],
    ['Probe 1/temperature', '18', 'topic-probe-name'],
    ['p', '{"n":', 'not-json'],
    ['p', '[1]', 'senml-not-a-pack'],
  ])('refuses %s ← %j as %s', (topic, payload, reason) => {
    const decoded = decode(topic, payload);
    expect(decoded.refused).toEqual([reason]);
    expect(decoded.readings).toEqual([]);
  });

  it('refuses what is larger than 64 KiB, text that is not UTF-8, and topics of others', () => {
    expect(decode('p', new Uint8Array(mostPayloadBytes + 1)).refused).toEqual(['too-large']);
    expect(decode('p', new Uint8Array([0xc3, 0x28])).refused).toEqual(['not-utf8']);
    expect(decodeMessage('home', 'brineward/other/probe/p/temperature', bytes('18'), now).refused).toEqual(['topic-foreign']);
    expect(decodeMessage('home', 'weather/temperature', bytes('18'), now).refused).toEqual(['topic-foreign']);
  });

  it('never throws, and gives a finite value or a reason, whatever arrives', () => {
    const topics = fc.oneof(fc.constantFrom('p', 'p/temperature', 'p/ph', 'p/presence', 'p/level'), fc.string());
    const jsonish = fc.json({ maxDepth: 4 });
    const senmlish = fc.array(fc.record({ bn: fc.string(), bt: fc.double(), n: fc.constantFrom('temperature', 'ph', 'level', '__proto__'), u: fc.constantFrom('Cel', 'K', 'pH', '/', '__proto__'), v: fc.oneof(fc.double(), fc.string()), t: fc.double() }, { requiredKeys: [] })).map((records) => JSON.stringify(records));
    const payloads = fc.oneof(fc.uint8Array({ maxLength: 300 }), fc.string().map(bytes), jsonish.map(bytes), senmlish.map(bytes));
    fc.assert(
      fc.property(topics, payloads, (topic, payload) => {
        const decoded = decode(topic, payload);
        expect(decoded.readings.length + decoded.refused.length + decoded.aside.length + (decoded.presence === null ? 0 : 1)).toBeGreaterThan(0);
        for (const { at, value } of decoded.readings) expect(Number.isFinite(value) && Number.isInteger(at)).toBe(true);
      }),
      { seed: 8428, numRuns: 5_000 },
    );
  });
});
