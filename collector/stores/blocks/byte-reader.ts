import { MalformedBlock } from './columns.ts';

/** Reads what a `ByteWriter` wrote; never past the end. */
export class ByteReader {
  readonly #bytes: Uint8Array;
  #at = 0;

  constructor(bytes: Uint8Array) {
    this.#bytes = bytes;
  }

  byte(): number {
    const value = this.#bytes[this.#at];
    if (value === undefined) throw new MalformedBlock('it ends too early');
    this.#at += 1;
    return value;
  }

  whole(): number {
    let value = 0;
    for (let weight = 1; weight <= 2 ** 49; weight *= 0x80) {
      const part = this.byte();
      value += (part & 0x7f) * weight;
      if (part < 0x80) {
        if (!Number.isSafeInteger(value)) break;
        return value;
      }
    }
    throw new MalformedBlock('a number is too large');
  }

  signed(): number {
    const value = this.whole();
    return value % 2 === 1 ? -(value + 1) / 2 : value / 2;
  }

  double(): number {
    const bytes = this.bytes(8);
    return new DataView(bytes.buffer, bytes.byteOffset, 8).getFloat64(0, true);
  }

  bytes(length: number): Uint8Array {
    const end = this.#at + length;
    if (end > this.#bytes.length) throw new MalformedBlock('it ends too early');
    const found = this.#bytes.subarray(this.#at, end);
    this.#at = end;
    return found;
  }

  /** Nothing may follow. */
  end(): void {
    if (this.#at !== this.#bytes.length) throw new MalformedBlock('something follows its end');
  }
}
