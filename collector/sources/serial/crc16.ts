/**
 * CRC-16 of a checked frame: polynomial 0x1021, start 0xFFFF, most significant bit first, nothing inverted at the end.
 *
 * Source: catalogue of parametrised CRC algorithms (G. Cook), CRC-16/IBM-3740, also called CRC-16/CCITT-FALSE.
 * Example: the nine characters `123456789` give 0x29B1.
 */
export const crc16 = (bytes: Iterable<number>): number => {
  let crc = 0xffff;
  for (const byte of bytes) {
    crc ^= byte << 8;
    for (let bit = 0; bit < 8; bit++) crc = (crc & 0x8000) === 0 ? crc << 1 : (crc << 1) ^ 0x1021;
    crc &= 0xffff;
  }
  return crc;
};
