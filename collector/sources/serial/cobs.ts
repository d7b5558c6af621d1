/**
 * Consistent overhead byte stuffing: bytes without any zero in them, so that a zero can end a frame and a reader that comes
 * in the middle is right again after one. Each code byte tells how far it is to the next zero; 255 means 254 bytes and no zero.
 *
 * Source: S. Cheshire and M. Baker, "Consistent Overhead Byte Stuffing", IEEE/ACM Transactions on Networking 7 (1999).
 * Example: 11 22 00 33 becomes 03 11 22 02 33.
 */
export const cobsDecode = (stuffed: Uint8Array): Uint8Array | null => {
  const bytes: number[] = [];
  let at = 0;
  while (at < stuffed.length) {
    const code = stuffed[at] ?? 0;
    const end = at + code;
    if (code === 0 || end > stuffed.length) return null;
    for (let from = at + 1; from < end; from += 1) {
      const byte = stuffed[from] ?? 0;
      if (byte === 0) return null;
      bytes.push(byte);
    }
    if (code < 0xff && end < stuffed.length) bytes.push(0);
    at = end;
  }
  return Uint8Array.from(bytes);
};
