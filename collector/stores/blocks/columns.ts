/** Readings of one series side by side, in order of time; a quality is its number in the list of qualities. */
export interface Columns {
  readonly times: Float64Array;
  readonly values: Float64Array;
  readonly qualities: Uint8Array;
}

/** Thrown while a block is read that cannot have been written by the program; turned into a value where blocks are decoded. */
export class MalformedBlock extends Error {
  override readonly name = 'MalformedBlock';
}
