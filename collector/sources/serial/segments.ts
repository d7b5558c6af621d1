/**
 * Cuts a stream of bytes at a delimiter, whatever pieces it arrives in. Keeps at most one unfinished piece of `mostBytes`;
 * what is longer is dropped up to the next delimiter and counted once.
 */
export interface Segments {
  /** The whole pieces that this chunk completes, without their delimiter; `tooLong` of them were dropped. */
  push(chunk: Uint8Array): { readonly pieces: readonly Uint8Array[]; readonly tooLong: number };
  /** Bytes dropped since the start. */
  readonly bytesDropped: number;
  /** Bytes that wait for their delimiter: never more than `mostBytes`. */
  readonly waiting: number;
}

export const createSegments = (delimiter: number, mostBytes: number): Segments => {
  const kept = Buffer.alloc(mostBytes);
  let length = 0;
  let isDropping = false;
  let bytesDropped = 0;

  const keep = (part: Uint8Array): void => {
    if (isDropping) bytesDropped += part.length;
    else if (length + part.length > mostBytes) {
      bytesDropped += length + part.length;
      length = 0;
      isDropping = true;
    } else {
      kept.set(part, length);
      length += part.length;
    }
  };

  return {
    push: (chunk) => {
      const pieces: Uint8Array[] = [];
      let tooLong = 0;
      let from = 0;
      for (let end = chunk.indexOf(delimiter); end !== -1; end = chunk.indexOf(delimiter, from)) {
        keep(chunk.subarray(from, end));
        if (isDropping) tooLong += 1;
        else pieces.push(Uint8Array.prototype.slice.call(kept, 0, length));
        length = 0;
        isDropping = false;
        from = end + 1;
      }
      keep(chunk.subarray(from));
      return { pieces, tooLong };
    },
    get bytesDropped() {
      return bytesDropped;
    },
    get waiting() {
      return length;
    },
  };
};
