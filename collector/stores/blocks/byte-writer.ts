/** Bytes that grow as they are written. Whole numbers take 7 bits a byte, lowest first, the top bit saying that more follow. */
export class ByteWriter {
  #bytes = new Uint8Array(256);
  #length = 0;

  byte(value: number): void {
    if (this.#length === this.#bytes.length) this.#grow(1);
    this.#bytes[this.#length] = value;
    this.#length += 1;
  }

  /** A whole number from 0 to 2^53 - 1. */
  whole(value: number): void {
    let rest = value;
    while (rest >= 0x80) {
      this.byte((rest % 0x80) + 0x80);
      rest = Math.floor(rest / 0x80);
    }
    this.byte(rest);
  }

  /** A whole number of either sign, small ones short: 0, -1, 1, -2 … become 0, 1, 2, 3 … */
  signed(value: number): void {
    this.whole(value < 0 ? -2 * value - 1 : 2 * value);
  }

  double(value: number): void {
    const bytes = new Uint8Array(8);
    new DataView(bytes.buffer).setFloat64(0, value, true);
    this.bytes(bytes);
  }

  bytes(added: Uint8Array): void {
    this.#grow(added.length);
    this.#bytes.set(added, this.#length);
    this.#length += added.length;
  }

  /** What has been written so far. */
  finish(): Uint8Array {
    return this.#bytes.slice(0, this.#length);
  }

  #grow(by: number): void {
    if (this.#length + by <= this.#bytes.length) return;
    const grown = new Uint8Array(Math.max(this.#bytes.length * 2, this.#length + by));
    grown.set(this.#bytes);
    this.#bytes = grown;
  }
}
