import { fail, ok, type Result } from '#domain/result.ts';
import { cobsDecode } from './cobs.ts';
import { crc16 } from './crc16.ts';

/**
 * A frame with length and checksum: `length` (two bytes, high first), that many bytes of text or CBOR, their CRC-16 (two bytes,
 * high first, over length and content), all of it byte-stuffed and ended by a zero.
 * Pure: from the bytes between two zeros to the content, or the reason why not.
 */
export type FrameFailure = 'frame-stuffing' | 'frame-length' | 'frame-checksum';

/** Length and checksum. */
const overhead = 4;

export const openFrame = (stuffed: Uint8Array): Result<Uint8Array, FrameFailure> => {
  const frame = cobsDecode(stuffed);
  if (frame === null) return fail('frame-stuffing');
  if (frame.length < overhead) return fail('frame-length');
  const view = new DataView(frame.buffer, frame.byteOffset, frame.length);
  const length = view.getUint16(0);
  if (length !== frame.length - overhead) return fail('frame-length');
  if (crc16(frame.subarray(0, 2 + length)) !== view.getUint16(2 + length)) return fail('frame-checksum');
  return ok(frame.subarray(2, 2 + length));
};
