import type { EpochMs } from '#domain/units/time.ts';
import type { Decoded } from '../decoded.ts';
import { decodePackOf, nothing, refuse, toText } from '../payload.ts';
import { openFrame } from './checked-frame.ts';
import { decodeOneWire } from './one-wire.ts';
import { decodePlainLine } from './plain-line.ts';
import { createSegments } from './segments.ts';
import type { SerialSpec } from './spec.ts';

/**
 * From the bytes of a cable to readings, as one state machine without clock or port: what comes in pieces comes out whole.
 * Never throws; everything that cannot be used has a reason.
 */
export interface SerialDecoder {
  push(chunk: Uint8Array, arrivedAt: EpochMs): readonly Decoded[];
  readonly bytesDropped: number;
  readonly waiting: number;
}

/** No line and no frame of a probe is longer; more is noise. */
export const mostFrameBytes = 8_192;

/** `isCut`: the first line may lack its beginning, and a half of a line can look whole (`air-temperature 31` without its first word). */
export const createSerialDecoder = (spec: SerialSpec, isCut: boolean): SerialDecoder => {
  const isFramed = spec.framing === 'frame';
  const segments = createSegments(isFramed ? 0x00 : 0x0a, mostFrameBytes);
  // The checksum of a frame finds a cut one.
  let mayBeCut = isCut && !isFramed;
  let framesDropped = 0;

  const decodePiece = (piece: Uint8Array, arrivedAt: EpochMs): Decoded => {
    if (mayBeCut) {
      mayBeCut = false;
      framesDropped += piece.length;
      return piece.length === 0 ? nothing : refuse('line-cut');
    }
    if (!isFramed) return decodeContent(spec, piece, arrivedAt);
    // Zeros in a row, as between frames: no frame at all.
    if (piece.length === 0) return nothing;
    const content = openFrame(piece);
    if (content.ok) return decodeContent(spec, content.value, arrivedAt);
    framesDropped += piece.length;
    return refuse(content.error);
  };

  return {
    push: (chunk, arrivedAt) => {
      const { pieces, tooLong } = segments.push(chunk);
      const decoded = pieces.map((piece) => decodePiece(piece, arrivedAt));
      if (tooLong > 0) mayBeCut = false;
      return tooLong === 0 ? decoded : [...decoded, { ...nothing, refused: Array.from({ length: tooLong }, () => 'frame-too-long') }];
    },
    get bytesDropped() {
      return segments.bytesDropped + framesDropped;
    },
    get waiting() {
      return segments.waiting;
    },
  };
};

const decodeContent = (spec: SerialSpec, content: Uint8Array, arrivedAt: EpochMs): Decoded => {
  if (spec.format === 'senml') return content.every((byte) => byte === 0x0d || byte === 0x20) ? nothing : decodePackOf(spec.probe ?? '', content, arrivedAt);
  const text = toText(content);
  if (!text.ok) return refuse(text.error);
  if (text.value.trim() === '') return nothing;
  return spec.format === '1-wire' ? decodeOneWire(text.value, arrivedAt) : decodePlainLine(text.value, spec.probe, arrivedAt);
};
