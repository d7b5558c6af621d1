import { describe, expect, test } from 'vitest';
import { jarGate } from '#domain/jar/jar-gate.ts';
import { acidFood, codexNaturalOlives, packLimitInForce } from '#domain/jar/pack-limits.ts';
import type { JarReading } from '#domain/jar/packed-jar-rule.ts';
import { packedJarRule } from '#domain/jar/packed-jar-rule.ts';
import { hourMs } from '#domain/units/time.ts';
import { goodMeter, jarReading, settledJars } from '../../helpers/jars.ts';

const gate = (readings: readonly JarReading[]) => jarGate({ packedAt: 0, readings });

describe('the limit in force', () => {
  test('is the strictest that applies, by name', () => {
    expect(packLimitInForce()).toBe(codexNaturalOlives);
    expect(packLimitInForce('cold')).toBe(acidFood);
    const office = { id: 'office', ph: 4.1, rule: 'advice of the local office', source: 'told by hand' };
    expect(packLimitInForce('shelf', [office])).toBe(office);
    // A looser one of one's own changes nothing.
    expect(packLimitInForce('shelf', [{ ...office, ph: 4.7 }])).toBe(codexNaturalOlives);
  });
});

describe('inside', () => {
  test('two jars, one read twice 48 h apart: the margin is said and nothing more is asked', () => {
    const found = gate(settledJars(4.12));
    expect(found).toMatchObject({ verdict: 'inside', unmet: [], next: null, limit: { ph: 4.3 } });
    expect(found.text).toBe('4.12 ± 0.13 from 2 jars, limit 4.30 (CXS 66-1981): inside by 0.05.');
  });
  test('never by a word that approves', () => {
    for (const ph of [3.6, 4.12, 4.25, 4.5, 6]) expect(gate(settledJars(ph)).text).not.toMatch(/\b(?:safe|ok|good|approved?|fine)\b/i);
  });
});

describe('unknown, with what is missing and the cheapest next step', () => {
  const twice = settledJars(4);
  test('no reading, and readings too early', () => {
    expect(gate([])).toMatchObject({ verdict: 'unknown', mean: null, margin: null, unmet: ['no-reading'], next: { code: 'measure-jars', from: 24 * hourMs, jars: 2 } });
    expect(gate([jarReading('1', 23.9, 3.9), jarReading('2', 2, 3.9)])).toMatchObject({ verdict: 'unknown', next: { code: 'measure-jars' } });
    expect(gate([jarReading('1', 24, 3.9)]).jars).toHaveLength(1);
  });
  test('strips never count, however low', () => {
    const strips = twice.map((reading) => ({ ...reading, method: 'strip' as const, ph: 3.2 }));
    expect(gate(strips)).toMatchObject({ verdict: 'unknown', mean: null, next: { code: 'use-meter' } });
    expect(gate([...twice.slice(0, 1), ...strips])).toMatchObject({ verdict: 'unknown', unmet: ['too-few-jars', 'not-repeated'] });
  });
  test('a meter that was not calibrated, or not checked in a second acid buffer, or 0.13 low in it', () => {
    expect(gate(twice.map((reading) => ({ ...reading, meter: null })))).toMatchObject({ verdict: 'unknown', next: { code: 'calibrate-meter' } });
    for (const secondBufferError of [null, -0.13, 0.06]) {
      expect(gate(twice.map((reading) => ({ ...reading, meter: { ...goodMeter, secondBufferError } })))).toMatchObject({ verdict: 'unknown', next: { code: 'check-second-buffer', within: 0.05 } });
    }
    expect(gate(twice.map((reading) => ({ ...reading, meter: { ...goodMeter, secondBufferError: 0.05 } }))).verdict).toBe('inside');
  });
  test('one jar, or readings whose jar nobody wrote', () => {
    expect(gate([jarReading('1', 24, 4), jarReading('1', 72, 4)])).toMatchObject({ verdict: 'unknown', unmet: ['too-few-jars'], next: { code: 'measure-other-jar', jars: 1 } });
    expect(gate([jarReading(null, 24, 4), jarReading(null, 72, 4), jarReading(null, 73, 4)])).toMatchObject({ verdict: 'unknown', unmet: ['too-few-jars'] });
  });
  test('two jars read once: the first may be repeated 48 h after its reading', () => {
    expect(gate([jarReading('1', 25, 4), jarReading('2', 30, 4)])).toMatchObject({ verdict: 'unknown', unmet: ['not-repeated'], next: { code: 'repeat-jar', jar: '1', from: 73 * hourMs, moving: false } });
    expect(gate([jarReading('1', 25, 4), jarReading('2', 30, 4), jarReading('1', 72.9, 4)]).unmet).toEqual(['not-repeated']);
    expect(gate([jarReading('1', 25, 4), jarReading('2', 30, 4), jarReading('1', 73, 4)]).verdict).toBe('inside');
  });
  test('a jar whose pH still moves, though another is steady', () => {
    const moving = [...twice, jarReading('2', 24, 3.9)];
    expect(gate(moving)).toMatchObject({ verdict: 'unknown', unmet: ['still-moving'], next: { code: 'repeat-jar', jar: '2', from: (72 + 48) * hourMs, moving: true } });
    // 0.05 agrees, as the rule says, in spite of binary fractions.
    expect(gate([...twice, jarReading('2', 24, 4.05)]).verdict).toBe('inside');
  });
  test('a high reading that does not count is not forgotten until its jar is read again', () => {
    const doubt = [...twice, jarReading('3', 80, 4.9, { meter: null })];
    expect(gate(doubt)).toMatchObject({ verdict: 'unknown', unmet: ['high-reading-in-doubt'], next: { code: 'measure-again', jar: '3' } });
    expect(gate([...doubt, jarReading('3', 81, 4)]).verdict).toBe('inside');
    expect(gate([...twice, jarReading('1', 1, 5.2)]).verdict).toBe('inside');
    expect(gate([...twice, jarReading('1', 90, 5, { method: 'strip', meter: null })]).verdict).toBe('unknown');
  });
  test('a value that no jar can have is no evidence', () => {
    expect(gate([...settledJars(0)]).verdict).toBe('unknown');
    expect(gate([...settledJars(Number.NaN)])).toMatchObject({ verdict: 'unknown', mean: null });
  });
});

describe('too close to say', () => {
  test('names the largest term and what the margin would be without it', () => {
    const warm = { ...goodMeter, temperatureHalfWidthC: 12 };
    const found = gate(settledJars(4.12).map((reading) => ({ ...reading, meter: warm })));
    expect(found).toMatchObject({ verdict: 'unknown', unmet: ['too-close'], next: { code: 'reduce', term: 'temperature' } });
    expect(found.next).toMatchObject({ marginThen: expect.closeTo(4.3 - 4.12 - 0.1 - 1.65 * Math.hypot(0.02 / Math.sqrt(3), (0.02 * 0.11) / Math.sqrt(3)), 9) as number });
    expect(found.text).toContain('too close to say');
  });
  test('jars that differ: how many would settle it, and the count does settle it', () => {
    const spread = [jarReading('1', 24, 3.99), jarReading('1', 72, 3.99), jarReading('2', 72, 4.17)];
    const found = gate(spread);
    expect(found).toMatchObject({ verdict: 'unknown', decidedBy: 'mean', next: { code: 'reduce', term: 'jars' } });
    const jarsThen = found.next?.code === 'reduce' ? (found.next.jarsThen ?? 0) : 0;
    expect(jarsThen).toBeGreaterThan(2);
    // Jars with the same mean and the same s as the two, in pairs: s²(n-1)/n grows with n, so the spread is kept by hand.
    const s = 0.18 / Math.SQRT2;
    const step = s * Math.sqrt((jarsThen - 1) / (2 * Math.floor(jarsThen / 2)));
    const more = Array.from({ length: jarsThen }, (_, i) => jarReading(String(i + 1), 72, 4.08 + (i === jarsThen - 1 && jarsThen % 2 === 1 ? 0 : i % 2 === 0 ? -step : step)));
    const then = gate([jarReading('1', 24, 4.08 - step), ...more]);
    expect(then.uncertainty?.jars).toBeCloseTo(s / Math.sqrt(jarsThen), 9);
    expect(4.3 - 4.08 - (then.uncertainty?.expanded ?? 1)).toBeGreaterThanOrEqual(0);
  });
  test('within the salt allowance no measurement can decide: more acid', () => {
    expect(gate(settledJars(4.21))).toMatchObject({ verdict: 'unknown', next: { code: 'add-acid' } });
  });
});

describe('outside', () => {
  test('above the limit as it reads, whatever else is missing', () => {
    expect(gate(settledJars(4.31))).toMatchObject({ verdict: 'outside', next: { code: 'add-acid' } });
    expect(gate([jarReading('1', 24, 4.9)])).toMatchObject({ verdict: 'outside' });
  });
  test('one bad jar among many good ones is not averaged away', () => {
    const nine = Array.from({ length: 9 }, (_, i) => jarReading(String(i), 72, 3.7));
    const all = [jarReading('0', 24, 3.7), ...nine];
    expect(gate(all).verdict).toBe('inside');
    expect(gate([...all, jarReading('bad', 72, 4.6)]).verdict).toBe('outside');
    const near = gate([...all, jarReading('near', 72, 4.25)]);
    expect(near).toMatchObject({ verdict: 'unknown', decidedBy: 'worst-jar', unmet: ['too-close'] });
    expect(4.3 - ((near.mean ?? 0) + (near.uncertainty?.expanded ?? 0))).toBeGreaterThan(0);
  });
  test('a limit of one’s own and a looser rule can be handed in', () => {
    expect(jarGate({ packedAt: 0, readings: settledJars(4.12), limit: { id: 'office', ph: 4.1, rule: 'advice', source: 'office' } }).verdict).toBe('outside');
    const unchecked = settledJars(4).map((reading) => ({ ...reading, meter: { ...goodMeter, secondBufferError: null } }));
    expect(jarGate({ packedAt: 0, readings: unchecked, rule: { ...packedJarRule, secondBufferWithin: null } }).verdict).toBe('inside');
  });
});
