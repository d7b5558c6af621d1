/** What a device does to send a checked frame, written from the description in `firmware-notes/serial.md`, apart from the program's own reading of it. */
const checksum = (bytes: readonly number[]): number => bytes.reduce((crc, byte) => Array.from({ length: 8 }).reduce<number>((sum) => ((sum << 1) ^ (sum & 0x8000 ? 0x1021 : 0)) & 0xffff, crc ^ (byte << 8)), 0xffff);

/** Every run up to the next zero, with its length plus one before it. */
export const stuff = (bytes: readonly number[]): number[] => {
  const stuffed: number[] = [];
  let run: number[] = [];
  const endRun = (): void => {
    stuffed.push(run.length + 1, ...run);
    run = [];
  };
  for (const [index, byte] of bytes.entries()) {
    if (byte === 0) endRun();
    else run.push(byte);
    if (run.length === 254 && index < bytes.length - 1) endRun();
  }
  endRun();
  return stuffed;
};

export const frameOf = (content: string | Uint8Array): Uint8Array => {
  const bytes = [...(typeof content === 'string' ? new TextEncoder().encode(content) : content)];
  const headed = [bytes.length >> 8, bytes.length & 0xff, ...bytes];
  const sum = checksum(headed);
  return Uint8Array.from([...stuff([...headed, sum >> 8, sum & 0xff]), 0]);
};
