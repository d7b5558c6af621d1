import type { Columns } from './columns.ts';

/** Blocks lately read, as columns, up to so many bytes; the one not asked for longest makes room. */
export class BlockCache {
  readonly #kept = new Map<number, Columns>();
  readonly #mostBytes: number;
  #bytes = 0;
  #hits = 0;
  #misses = 0;

  constructor(mostBytes: number) {
    this.#mostBytes = mostBytes;
  }

  get count(): CacheCount {
    return { hits: this.#hits, misses: this.#misses, blocks: this.#kept.size, bytes: this.#bytes };
  }

  /** The columns kept under a number; else what `load` gives, which is then kept if it fits. */
  get(id: number, load: () => Columns): Columns {
    const known = this.#kept.get(id);
    if (known !== undefined) {
      this.#hits += 1;
      // Taken out and put in again it is the newest of the map.
      this.#kept.delete(id);
      this.#kept.set(id, known);
      return known;
    }
    this.#misses += 1;
    const loaded = load();
    const bytes = bytesOf(loaded);
    if (bytes > this.#mostBytes) return loaded;
    this.#kept.set(id, loaded);
    this.#bytes += bytes;
    for (const [oldest, columns] of this.#kept) {
      if (this.#bytes <= this.#mostBytes) break;
      this.#kept.delete(oldest);
      this.#bytes -= bytesOf(columns);
    }
    return loaded;
  }
}

export interface CacheCount {
  readonly hits: number;
  readonly misses: number;
  readonly blocks: number;
  readonly bytes: number;
}

const bytesOf = ({ times, values, qualities }: Columns): number => times.byteLength + values.byteLength + qualities.byteLength;
