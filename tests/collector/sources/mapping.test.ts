import { describe, expect, it } from 'vitest';
import { isPointer, pointAt } from '../../../collector/sources/json-pointer.ts';
import { decodeMapped, type Mapping } from '../../../collector/sources/mapping.ts';
import { mappingFault } from '../../../collector/sources/mapping-fault.ts';
import { isTopicFilter, matchTopic } from '../../../collector/sources/topic-filter.ts';

const now = Date.UTC(2026, 4, 3, 6, 0, 0);

describe('a JSON pointer', () => {
  // RFC 6901, section 5: the document and its pointers.
  const document = { foo: ['bar', 'baz'], '': 0, 'a/b': 1, 'c%d': 2, 'e^f': 3, 'g|h': 4, 'i\\j': 5, 'k"l': 6, ' ': 7, 'm~n': 8 };
  it.each([
    ['', document], ['/foo', ['bar', 'baz']], ['/foo/0', 'bar'], ['/', 0], ['/a~1b', 1], ['/c%d', 2], ['/e^f', 3], ['/g|h', 4], ['/i\\j', 5], ['/k"l', 6], ['/ ', 7], ['/m~0n', 8],
  ])('%j points where the standard says', (pointer, value) => {
    expect(isPointer(pointer)).toBe(true);
    expect(pointAt(document, pointer)).toEqual(value);
  });

  it('points at nothing where there is nothing, and not at what every object has', () => {
    for (const pointer of ['/no', '/foo/2', '/foo/-', '/foo/01', '/foo/bar', '/a~1b/c', '/constructor', '/__proto__', '/foo/length']) expect(pointAt(document, pointer)).toBeUndefined();
    // Section 4: ~01 is ~1, never /.
    expect(pointAt({ '~1': 'right', '/': 'wrong' }, '/~01')).toBe('right');
    for (const text of ['foo', '/m~n', '/m~2', '~0']) expect(isPointer(text)).toBe(false);
  });
});

describe('a topic filter', () => {
  // MQTT 5.0, section 4.7.1: the examples of the standard.
  it.each([
    ['sport/tennis/player1/#', 'sport/tennis/player1', ['']], ['sport/tennis/player1/#', 'sport/tennis/player1/ranking', ['ranking']],
    ['sport/tennis/player1/#', 'sport/tennis/player1/score/wimbledon', ['score/wimbledon']], ['sport/#', 'sport', ['']],
    ['sport/tennis/+', 'sport/tennis/player1', ['player1']], ['sport/tennis/+', 'sport/tennis/player1/ranking', null], ['sport/+', 'sport', null], ['sport/+', 'sport/', ['']],
    ['+/+', '/finance', ['', 'finance']], ['/+', '/finance', ['finance']], ['+', '/finance', null],
    ['#', '$SYS/monitor/Clients', null], ['+/monitor/Clients', '$SYS/monitor/Clients', null], ['$SYS/#', '$SYS/monitor/Clients', ['monitor/Clients']],
  ])('%s and %s', (filter, topic, stood) => {
    expect(isTopicFilter(filter)).toBe(true);
    expect(matchTopic(filter, topic)).toEqual(stood);
  });

  it.each(['sport/tennis#', 'sport/tennis/#/ranking', 'sport+', '', 'a\0b'])('is not %j', (filter) => expect(isTopicFilter(filter)).toBe(false));
});

describe('a message of somebody else', () => {
  const shed: Mapping = { topic: 'shed/+/state', pointer: '/ds18b20/0/t', probe: 'shed-{1}', channel: 'temperature', unit: 'degF' };
  const decode = (mappings: readonly Mapping[], topic: string, payload: unknown) => decodeMapped(mappings, topic, typeof payload === 'string' ? payload : JSON.stringify(payload), now);

  it('gives a reading where a pointer finds a number, in the unit of the channel', () => {
    const decoded = decode([shed], 'shed/Drum_2/state', { ds18b20: [{ t: 65.12 }] });
    expect(decoded).toMatchObject({ refused: [], readings: [{ series: 'shed-drum-2/temperature', at: now, quality: 'good' }] });
    expect(decoded?.readings[0]?.value).toBeCloseTo(18.4, 10);
  });

  it('may hold several, each by a mapping of its own, and their time', () => {
    const time = '/at';
    const mappings: Mapping[] = [{ ...shed, unit: 'Cel', time }, { ...shed, pointer: '/ph', unit: undefined, channel: 'ph', time }];
    for (const at of [now / 1_000 - 60, now - 60_000, new Date(now - 60_000).toISOString()]) {
      expect(decode(mappings, 'shed/a/state', { ds18b20: [{ t: '18.4' }], ph: 4.3, at })?.readings).toEqual([
        { series: 'shed-a/temperature', at: now - 60_000, value: 18.4, quality: 'good' },
        { series: 'shed-a/ph', at: now - 60_000, value: 4.3, quality: 'good' },
      ]);
    }
    expect(decode(mappings, 'shed/a/state', { ds18b20: [{ t: 85 }], ph: 'none', at: now })).toMatchObject({ readings: [{ quality: 'power-on' }], refused: ['not-a-number'] });
    expect(decode(mappings, 'shed/a/state', { ds18b20: [{ t: 18 }], ph: 4, at: now + 3_600_000 })?.aside).toHaveLength(2);
    expect(decode(mappings, 'shed/a/state', { ds18b20: [{ t: 18 }], ph: 4, at: 'noon' })?.refused).toEqual(['not-a-time', 'not-a-time']);
  });

  it('may be a bare number, and is refused with a reason where it is nothing of the kind', () => {
    const bare: Mapping = { topic: 'cellar/t', pointer: '', probe: 'cellar', channel: 'air-temperature' };
    expect(decode([bare], 'cellar/t', '18.5')?.readings[0]?.value).toBe(18.5);
    expect(decode([bare], 'cellar/t', 'warm')?.refused).toEqual(['not-json']);
    expect(decode([bare], 'cellar/t', { t: 1 })?.refused).toEqual(['not-a-number']);
    expect(decode([shed], 'shed/___/state', { ds18b20: [{ t: 60 }] })?.readings[0]?.series).toBe('shed/temperature');
    expect(decode([{ ...shed, probe: '{1}' }], 'shed/___/state', { ds18b20: [{ t: 60 }] })?.refused).toEqual(['topic-probe-name']);
    expect(decode([bare], 'cellar/other', '18.5')).toBeNull();
  });

  it.each([
    [{ ...shed, topic: 'shed/a+/b' }, /^topic: /], [{ ...shed, pointer: 'ds18b20' }, /^pointer: /], [{ ...shed, time: 'at' }, /^time: /], [{ ...shed, channel: 'humidity' }, /^channel: .*temperature/],
    [{ ...shed, unit: '%' }, /^unit: % is no unit of temperature/], [{ ...shed, probe: '{2}' }, /^probe: \{2\} asks/], [{ ...shed, probe: '' }, /^probe: /],
  ])('is set up with a fault that is named: %o', (mapping, text) => expect(mappingFault(mapping)).toMatch(text));

  it('is set up without one', () => expect(mappingFault(shed)).toBeNull());
});
