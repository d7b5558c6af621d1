/** Items kept in order of a whole number each is known by; adding at the end, the ordinary case, costs nothing extra. */
export class Sorted<Item> {
  readonly #keys: number[] = [];
  readonly #items: Item[] = [];

  get size(): number {
    return this.#items.length;
  }

  /** Index of the first key that is not below `key`. */
  indexOf(key: number): number {
    const keys = this.#keys;
    if ((keys.at(-1) ?? -Infinity) < key) return keys.length;
    let low = 0;
    let high = keys.length;
    while (low < high) {
      const middle = (low + high) >>> 1;
      if ((keys[middle] ?? Infinity) < key) low = middle + 1;
      else high = middle;
    }
    return low;
  }

  get(key: number): Item | undefined {
    const index = this.indexOf(key);
    return this.#keys[index] === key ? this.#items[index] : undefined;
  }

  /** Adds an item under a key that is not there yet. */
  add(key: number, item: Item): void {
    const index = this.indexOf(key);
    if (index === this.#keys.length) {
      this.#keys.push(key);
      this.#items.push(item);
    } else {
      this.#keys.splice(index, 0, key);
      this.#items.splice(index, 0, item);
    }
  }

  at(index: number): Item | undefined {
    return this.#items.at(index);
  }

  /** Items with `from <= key < to`, at most `limit` of the first. */
  between(from: number, to: number, limit = Infinity): readonly Item[] {
    const start = this.indexOf(from);
    return this.#items.slice(start, Math.max(start, Math.min(this.indexOf(to), start + limit)));
  }

  /** The last `count` items with a key below `before`, in order. */
  lastBefore(before: number, count: number): readonly Item[] {
    const end = this.indexOf(before);
    return this.#items.slice(Math.max(0, end - count), end);
  }
}
