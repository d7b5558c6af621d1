import type { EpochMs } from '../units/time.ts';
import type { SeriesId } from './reading.ts';
import type { ReadingStore, Span } from './store.ts';

/**
 * One immutable block: the readings of one series that were stored when its day was sealed. What comes later for the same day goes
 * into a further part (an amendment) at the next sealing; a part once written is never rewritten.
 */
export interface BlockDigest extends Span {
  readonly series: SeriesId;
  /** 0 is the day as first sealed, 1 and on are its amendments. */
  readonly part: number;
  readonly count: number;
  /** SHA-256 over the bytes of the block, hex. The block states its series, day, part and count itself. */
  readonly sha256: string;
}

/** What can be wrong with a block, or with what stands about it. */
export const blockFaults = {
  'digest-wrong': 'its bytes are not those its digest was taken of',
  'digest-not-sealed': 'its digest is not the one in the day seal',
  unreadable: 'its bytes cannot be read as a block',
  misplaced: 'it stands under another series, day, part, count or time than it states itself',
  missing: 'the day seal names it and it is not there',
  'part-missing': 'an earlier part of its day is not there',
  'not-in-seal': 'no day seal names it',
  'count-wrong': 'the readings in blocks and rows are not as many as were stored',
  'rollup-wrong': 'the sums kept for views are not those of its readings',
} as const;
export type BlockFault = keyof typeof blockFaults;

/** One step of a verification. Every block is told once without, or at least once with a fault. */
export interface BlockCheck extends Span {
  readonly series: SeriesId;
  /** Null where the fault is not of one block: `count-wrong` and `rollup-wrong`, which name the stretch of time they are about. */
  readonly part: number | null;
  readonly fault: BlockFault | null;
  /** Blocks looked at so far, of how many. */
  readonly checked: number;
  readonly total: number;
}

/** A store that can turn a finished day into blocks. Views, rows, counts and outcomes of `append` are the same before and after. */
export interface SealingStore extends ReadingStore {
  /**
   * Turns every reading stored in rows within the day into a block per series, and answers the blocks this call wrote. The rows go only
   * after the block is on disk and has been read back and compared. Repeating it, also after a kill in the middle, is harmless.
   * The bounds are the caller's: a local day of the site has 23 to 25 hours. Appends may go on meanwhile.
   */
  seal(day: Span): Promise<readonly BlockDigest[]>;
  /** The blocks of a day with these very bounds, by series and part. */
  digests(day: Span): Promise<readonly BlockDigest[]>;
  /** The time of the first reading at or after `from`, of any series, that is in no block yet: finds days to seal and days to amend. */
  firstUnsealed(from: EpochMs): Promise<EpochMs | null>;
  /**
   * Reads every block again: its digest, its content, its place, and the counts and sums kept about it. With what the day seals say
   * (`sealed`) it also finds blocks replaced, removed or added.
   */
  verifyBlocks(sealed?: Iterable<BlockDigest>): AsyncIterable<BlockCheck>;
}
