/**
 * CRC-8 of 1-Wire frames: ROM codes and scratchpads.
 *
 * x⁸ + x⁵ + x⁴ + 1, least significant bit first, start 0, nothing inverted at the end; reflected constant 0x8C.
 *
 * Source: Maxim application note 27. A frame followed by its own check gives 0, and so does a frame of zeros: a good check is not a good reading.
 * Example: 02 1C B8 01 00 00 00 gives A2.
 */
export const crc8 = (bytes: Iterable<number>): number => {
  let crc = 0;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit++) crc = (crc & 1) === 1 ? (crc >> 1) ^ 0x8c : crc >> 1;
  }
  return crc;
};
