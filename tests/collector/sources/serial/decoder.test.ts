import { describe, expect, it } from 'vitest';
import { createSerialDecoder } from '../../../../collector/sources/serial/decoder.ts';
import { parseSerialSpec, type SerialSpec } from '../../../../collector/sources/serial/spec.ts';
import { frameOf } from '../../../helpers/frames.ts';

const now = Date.UTC(2026, 4, 3, 6);
const spec = (rest: Partial<SerialSpec> = {}): SerialSpec => ({ path: '/dev/ttyUSB0', baud: 9_600, format: 'lines', framing: 'line', probe: 'barrel-2', ...rest });
const decode = (bytes: string | Uint8Array, given = spec(), isCut = false) => {
  const decoded = createSerialDecoder(given, isCut).push(typeof bytes === 'string' ? Buffer.from(bytes) : bytes, now);
  return { readings: decoded.flatMap(({ readings }) => readings), refused: decoded.flatMap(({ refused }) => refused) };
};
const reading = (series: string, value: number, quality = 'good') => ({ series, at: now, value, quality });

describe('plain lines', () => {
  it('take the name of the cable, or say their own', () => {
    expect(decode('temperature 18.25\r\nbarrel-3 ph 4.31\n  temperature\t-0.5 \n\n')).toEqual({ readings: [reading('barrel-2/temperature', 18.25), reading('barrel-3/ph', 4.31), reading('barrel-2/temperature', -0.5)], refused: [] });
  });
  it('mark the false values of the sensor', () => {
    expect(decode('temperature 85\ntemperature -127\nph 15\n').readings.map(({ quality }) => quality)).toEqual(['power-on', 'disconnected', 'out-of-range']);
  });
  it.each([
    ['18.25', 'line-form'],
    ['a b c d', 'line-form'],
    ['warmth 18.25', 'line-channel'],
    ['constructor 18.25', 'line-channel'],
    ['Barrel_3 temperature 18', 'line-probe-name'],
    ['temperature 18,25', 'not-a-number'],
    ['temperature 0x12', 'not-a-number'],
    ['temperature NaN', 'not-a-number'],
    ['temperature 1e999', 'not-a-number'],
  ])('%s is refused: %s', (line, reason) => {
    expect(decode(`${line}\n`)).toEqual({ readings: [], refused: [reason] });
  });
  it('without a name anywhere are refused', () => {
    expect(decode('temperature 18\n', spec({ probe: null })).refused).toEqual(['line-without-probe']);
  });
  it('that are no text are refused', () => {
    expect(decode(Uint8Array.of(0xff, 0xfe, 0x0a)).refused).toEqual(['not-utf8']);
  });
  it('do not trust a beginning that may be missing: half of "air-temperature 31" looks like a whole line', () => {
    expect(decode('temperature 31\ntemperature 18\n', spec(), true)).toEqual({ readings: [reading('barrel-2/temperature', 18)], refused: ['line-cut'] });
    expect(decode('\ntemperature 18\n', spec(), true)).toEqual({ readings: [reading('barrel-2/temperature', 18)], refused: [] });
  });
});

describe('packs', () => {
  const pack = '[{"n":"temperature","u":"Cel","v":18.4},{"n":"ph","v":4.31}]';
  const expected = { readings: [reading('barrel-2/temperature', 18.4), reading('barrel-2/ph', 4.31)], refused: [] };
  it('come one a line', () => {
    expect(decode(`${pack}\r\n\r\n`, spec({ format: 'senml' }))).toEqual(expected);
  });
  it('come in frames, in JSON or CBOR', () => {
    // The pack of RFC 8428 section 6 labels, coded by hand: [{0: "temperature", 2: 18.5}].
    const cbor = Buffer.from('81a2006b74656d706572617475726502f94ca0', 'hex');
    expect(decode(frameOf(pack), spec({ format: 'senml', framing: 'frame' }))).toEqual(expected);
    expect(decode(frameOf(cbor), spec({ format: 'senml', framing: 'frame' }))).toEqual({ readings: [reading('barrel-2/temperature', 18.5)], refused: [] });
  });
  it('keep their own reasons', () => {
    expect(decode('[{"n":"temperature"\n[{"n":"warmth","v":1}]\n{}\n', spec({ format: 'senml' })).refused).toEqual(['not-json', 'unknown-name', 'senml-not-a-pack']);
  });
});

describe('a 1-Wire bridge', () => {
  const bridge = spec({ format: '1-wire', probe: null });
  // DS18B20 datasheet, table 1 (+25.0625 °C), with the check byte of application note 27.
  const good = '91 01 4B 46 7F FF 0F 10 25';
  it('names the sensor by its ROM code in either form, and checks both', () => {
    // The check of the ROM code, bit by bit as in figure 3 of application note 27; the note's own example comes out as A2.
    const crcBit = (frame: readonly number[]): number => {
      let register = 0;
      for (const byte of frame) for (let bit = 0; bit < 8; bit += 1) {
        const feedback = (register ^ (byte >> bit)) & 1;
        register = (register >> 1) ^ (feedback * 0x8c);
      }
      return register;
    };
    const rom = [0x28, 0xff, 0x64, 0x1e, 0x0f, 0x00, 0x00];
    const hex = Buffer.from([...rom, crcBit(rom)]).toString('hex');
    expect(crcBit([0x02, 0x1c, 0xb8, 0x01, 0, 0, 0])).toBe(0xa2);
    const expected = { readings: [reading('28-00000f1e64ff/temperature', 25.0625)], refused: [] };
    expect(decode(`${hex} ${good.replaceAll(' ', '')}\n`, bridge)).toEqual(expected);
    expect(decode(`28-00000f1e64ff ${good}\n`, bridge)).toEqual(expected);
    expect(decode(`${hex.toUpperCase()}: ${good.replaceAll(' ', ':')}\r\n`, bridge)).toEqual(expected);
    expect(decode(`${hex.slice(0, -2)}00 ${good}\n`, bridge).refused).toEqual(['rom-checksum']);
    // The first seven bytes and the check of application note 27: another family, whose scratchpad means something else.
    expect(decode(`021cb801000000a2 ${good}\n`, bridge).refused).toEqual(['rom-family']);
  });
  it.each([
    ['91 01 4B 46 7F FF 0F 10 26', 'scratchpad-checksum'],
    ['91 01 4B 46 7F FF 0F 10', 'one-wire-form'],
    ['zz', 'one-wire-form'],
  ])('refuses %s: %s', (scratchpad, reason) => {
    expect(decode(`28-00000f1e64ff ${scratchpad}\n`, bridge)).toEqual({ readings: [], refused: [reason] });
  });
  it('keeps what a sensor says falsely, marked', () => {
    const quality = (scratchpad: string) => decode(`28-00000f1e64ff ${scratchpad}\n`, bridge).readings.map((read) => [read.value, read.quality]);
    // Datasheet: 0550h is +85 °C at power-on; its check byte is 1C.
    expect(quality('50 05 4B 46 7F FF 0C 10 1C')).toEqual([[85, 'power-on']]);
    expect(quality('FF FF FF FF FF FF FF FF FF')).toEqual([[-127, 'disconnected']]);
    expect(quality('00 00 00 00 00 00 00 00 00')).toEqual([[0, 'blank-scratchpad']]);
  });
});

describe('noise', () => {
  it('in a line without end is dropped with a reason, and the line after it is read', () => {
    const noise = Buffer.alloc(20_000, 0x55);
    const decoder = createSerialDecoder(spec(), false);
    const before = decoder.push(noise, now);
    expect([before, decoder.waiting, decoder.bytesDropped]).toEqual([[], 0, 20_000]);
    const after = decoder.push(Buffer.from('\ntemperature 18\n'), now);
    expect(after.flatMap(({ refused }) => refused)).toEqual(['frame-too-long']);
    expect(after.flatMap(({ readings }) => readings)).toEqual([reading('barrel-2/temperature', 18)]);
  });
  it('between frames costs no frame after the next zero', () => {
    const framed = spec({ framing: 'frame' });
    expect(decode(Buffer.concat([Buffer.from('garbage\n\0'), frameOf('temperature 18'), Buffer.from([0, 0, 0xff, 0x12, 0]), frameOf('ph 4.2')]), framed)).toEqual({ readings: [reading('barrel-2/temperature', 18), reading('barrel-2/ph', 4.2)], refused: ['frame-stuffing', 'frame-stuffing'] });
  });
});

describe('the line that describes a cable', () => {
  it('is read', () => {
    expect(parseSerialSpec('path=/dev/ttyUSB0,baud=115200,format=senml,framing=frame,probe=barrel-2')).toEqual({ ok: true, value: { path: '/dev/ttyUSB0', baud: 115_200, format: 'senml', framing: 'frame', probe: 'barrel-2' } });
    expect(parseSerialSpec('path=/dev/ttyACM0')).toEqual({ ok: true, value: { path: '/dev/ttyACM0', baud: 9_600, format: 'lines', framing: 'line', probe: null } });
  });
  it.each([
    ['/dev/ttyUSB0', 'must be a key'],
    ['baud=9600', 'path is missing'],
    ['path=/dev/ttyUSB0,path=/dev/ttyUSB1', 'given twice'],
    ['path=/dev/ttyUSB0,speed=9600', 'speed is not one of path, baud'],
    ['path=/dev/ttyUSB0,baud=fast', 'baud must be'],
    ['path=/dev/ttyUSB0,baud=1', 'baud must be'],
    ['path=/dev/ttyUSB0,format=csv', 'format must be one of lines, senml, 1-wire'],
    ['path=/dev/ttyUSB0,framing=slip', 'framing must be one of line, frame'],
    ['path=/dev/ttyUSB0,probe=Barrel 2', 'probe must be'],
    ['path=/dev/ttyUSB0,format=senml', 'probe is missing'],
    ['path=/dev/ttyUSB0,format=1-wire,probe=barrel-2', 'probe must be left out'],
  ])('%s says what is wrong with it', (line, why) => {
    const parsed = parseSerialSpec(line);
    expect(parsed.ok ? '' : parsed.error).toContain(why);
  });
});
