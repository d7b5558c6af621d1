import { describe, expect, it } from 'vitest';
import { resolveSenml, type SenmlRecord } from '#domain/reading/senml.ts';

/** RFC 8428 "Sensor Measurement Lists (SenML)": examples of sections 5.1.1 to 5.1.6 and rules of section 4 (VERIFIED: text of the RFC). */
const arrivedAt = Date.UTC(2026, 4, 3, 6, 0, 0);
const resolved = (pack: unknown): readonly SenmlRecord[] => {
  const outcome = resolveSenml(pack, arrivedAt);
  if (!outcome.ok) throw new Error(outcome.error);
  return outcome.value;
};
const refused = (pack: unknown): string => {
  const outcome = resolveSenml(pack, arrivedAt);
  return outcome.ok ? 'taken' : outcome.error;
};

describe('resolving a SenML pack', () => {
  it('gives a record without a time the time of arrival (5.1.1)', () => {
    expect(resolved([{ n: 'urn:dev:ow:10e2073a01080063', u: 'Cel', v: 23.1 }])).toEqual([{ name: 'urn:dev:ow:10e2073a01080063', unit: 'Cel', value: 23.1, at: arrivedAt, hasOwnTime: false, updateS: null }]);
  });

  it('applies base name, base time and base unit to the records after them (5.1.3, resolved in 5.1.4)', () => {
    const pack = [
      { bn: 'urn:dev:ow:10e2073a01080063', bt: 1.320067464e9, bu: '%RH', v: 20 },
      { u: 'lon', v: 24.30621 }, { u: 'lat', v: 60.07965 },
      { t: 60, v: 20.3 }, { u: 'lon', t: 60, v: 24.30622 }, { u: 'lat', t: 60, v: 60.07965 },
      { t: 120, v: 20.7 }, { u: 'lon', t: 120, v: 24.30623 }, { u: 'lat', t: 120, v: 60.07966 },
      { u: '%EL', t: 150, v: 98 },
      { t: 180, v: 21.2 }, { u: 'lon', t: 180, v: 24.30628 }, { u: 'lat', t: 180, v: 60.07967 },
    ];
    const records = resolved(pack);
    expect(records.map(({ at }) => at / 1_000)).toEqual([464, 464, 464, 524, 524, 524, 584, 584, 584, 614, 644, 644, 644].map((end) => 1_320_067_000 + end));
    expect(records.map(({ unit }) => unit)).toEqual(['%RH', 'lon', 'lat', '%RH', 'lon', 'lat', '%RH', 'lon', 'lat', '%EL', '%RH', 'lon', 'lat']);
    expect(new Set(records.map(({ name }) => name))).toEqual(new Set(['urn:dev:ow:10e2073a01080063']));
    expect(records[12]?.value).toBe(60.07967);
  });

  it('reads a base time with negative offsets and a base value of zero (5.1.2)', () => {
    const records = resolved([
      { bn: 'urn:dev:ow:10e2073a0108006:', bt: 1.276020076001e9, bu: 'A', bver: 5, n: 'voltage', u: 'V', v: 120.1 },
      { n: 'current', t: -5, v: 1.2 },
      { n: 'current', v: 1.7 },
    ]);
    expect(records.map(({ name, unit, at }) => [name, unit, at])).toEqual([
      ['urn:dev:ow:10e2073a0108006:voltage', 'V', 1_276_020_076_001],
      ['urn:dev:ow:10e2073a0108006:current', 'A', 1_276_020_071_001],
      ['urn:dev:ow:10e2073a0108006:current', 'A', 1_276_020_076_001],
    ]);
  });

  it('keeps text, truth and data values as records without a number (5.1.5)', () => {
    const records = resolved([{ bn: 'urn:dev:ow:10e2073a01080063:', n: 'temp', u: 'Cel', v: 23.1 }, { n: 'label', vs: 'Machine Room' }, { n: 'open', vb: false }, { n: 'nfv-reader', vd: 'aGkgCg' }]);
    expect(records.map(({ value }) => value)).toEqual([23.1, null, null, null]);
  });

  it('lets the base name change inside a pack while the base time stays (5.1.6)', () => {
    const records = resolved([{ bn: '2001:db8::2/', bt: 1.320078429e9, n: 'temperature', u: 'Cel', v: 25.2 }, { n: 'humidity', u: '%RH', v: 30 }, { bn: '2001:db8::1/', n: 'temperature', u: 'Cel', v: 12.3 }, { n: 'humidity', u: '%RH', v: 67 }]);
    expect(records.map(({ name }) => name)).toEqual(['2001:db8::2/temperature', '2001:db8::2/humidity', '2001:db8::1/temperature', '2001:db8::1/humidity']);
    expect(new Set(records.map(({ at }) => at))).toEqual(new Set([1_320_078_429_000]));
  });

  it('takes times below 2^28 s as relative to the arrival and the rest as Unix time (4.5.3)', () => {
    const edge = 2 ** 28;
    expect(resolved([{ n: 'a', v: 1, t: -60 }])[0]?.at).toBe(arrivedAt - 60_000);
    expect(resolved([{ n: 'a', v: 1, t: edge - 1 }])[0]?.at).toBe(arrivedAt + (edge - 1) * 1_000);
    expect(resolved([{ n: 'a', v: 1, t: edge }])[0]?.at).toBe(edge * 1_000);
  });

  it('adds the base value, and counts a missing one as zero (4.5.4)', () => {
    expect(resolved([{ bn: 'a', bv: 20, v: 1.5 }, { v: -2 }]).map(({ value }) => value)).toEqual([21.5, 18]);
    expect(resolved([{ bn: 'a', bv: 20 }])[0]?.value).toBe(20);
  });

  it('ignores labels nobody knows, but not those that must be understood (4.4)', () => {
    expect(resolved([{ n: 'a', v: 1, colour: 'green' }])).toHaveLength(1);
    expect(refused([{ n: 'a', v: 1, colour_: 'green' }])).toBe('senml-must-understand');
  });

  it('refuses a version above the one it knows, and takes lower ones', () => {
    expect(refused([{ n: 'a', v: 1, bver: 11 }])).toBe('senml-version');
    expect(refused([{ n: 'a', v: 1, bver: 10 }])).toBe('taken');
  });

  it.each([
    ['a record without a value', [{ n: 'a', u: 'Cel' }], 'senml-value'],
    ['two values in one record', [{ n: 'a', v: 1, vb: true }], 'senml-value'],
    ['a name that begins with a dash', [{ n: '-a', v: 1 }], 'senml-name'],
    ['a name with a space', [{ n: 'a b', v: 1 }], 'senml-name'],
    ['no name at all', [{ v: 1 }], 'senml-name'],
    ['a value that is text', [{ n: 'a', v: '1' }], 'senml-field'],
    ['an empty list', [], 'senml-not-a-pack'],
    ['an object', { n: 'a', v: 1 }, 'senml-not-a-pack'],
    ['a list of lists', [[1]], 'senml-not-a-pack'],
    ['nothing', null, 'senml-not-a-pack'],
  ])('refuses %s', (_what, pack, reason) => {
    expect(refused(pack)).toBe(reason);
  });

  it('takes a sum in place of a value, and a record that only sets base fields', () => {
    expect(resolved([{ n: 'a', s: 5 }])[0]?.value).toBeNull();
    expect(resolved([{ bn: 'a:', bt: 1.3e9 }, { n: 't', v: 1 }])).toHaveLength(1);
  });
});
