import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { beat, frame, retry } from '../../api/events/frame.ts';
import { createEventParser } from '../helpers/event-stream.ts';

/** Frames against a reader written from the HTML Living Standard, section 9.2.6 "Interpreting an event stream". */
describe('the reader of this test', () => {
  it('gives the examples of the standard (section 9.2.6)', () => {
    // Two lines of data are joined; a space after the colon is dropped, once; a block without data is no event; an id stays.
    const parser = createEventParser();
    expect(parser.push(': test stream\n\ndata: "first"\nid: 1\n\ndata:"second"\nid\n\ndata:  "third"\n\n')).toEqual([
      { name: 'message', data: 'first', lastEventId: '1' },
      { name: 'message', data: 'second', lastEventId: '' },
      { name: 'message', data: 'third', lastEventId: '' },
    ]);
    expect(createEventParser().push('event: add\r\ndata: [1,\r\ndata: 2]\r\n\r\nevent: lost\n\n')).toEqual([{ name: 'add', data: [1, 2], lastEventId: '' }]);
  });
});

describe('a frame', () => {
  const event = fc.record({ id: fc.stringMatching(/^[\w-]{1,20}$/), name: fc.stringMatching(/^[a-z]{1,10}$/), data: fc.jsonValue() });

  it('comes out as it went in, whatever it holds and however it is cut on the way', () => {
    fc.assert(
      fc.property(fc.array(event, { maxLength: 5 }), fc.integer({ min: 1, max: 40 }), (sent, size) => {
        const text = retry(2_000) + sent.map(({ id, name, data }) => beat + frame({ id, event: name, data: JSON.stringify(data) })).join('');
        const parser = createEventParser();
        const pieces = Array.from({ length: Math.ceil(text.length / size) }, (_, index) => text.slice(index * size, (index + 1) * size));
        expect(pieces.flatMap((piece) => parser.push(piece))).toEqual(sent.map(({ id, name, data }) => ({ name, data: JSON.parse(JSON.stringify(data)) as unknown, lastEventId: id })));
        expect(parser.retryMs).toBe(2_000);
      }),
    );
  });

  it('cannot be forged by what it carries', () => {
    const forged = 'x\n\nevent: alert\ndata: {}\n\n';
    expect(createEventParser().push(frame({ event: 'drum', data: JSON.stringify({ name: forged }) }))).toEqual([{ name: 'drum', data: { name: forged }, lastEventId: '' }]);
    for (const end of ['\n', '\r', '\r\n', '\0']) {
      expect(() => frame({ id: `1${end}data: {}`, data: '{}' })).toThrow(TypeError);
      expect(() => frame({ event: `a${end}b`, data: '{}' })).toThrow(TypeError);
    }
  });
});
