import { describe, expect, it } from 'vitest';
import type { Reading } from '#domain/reading/reading.ts';
import type { AppendOutcome } from '#domain/reading/store.ts';
import { createGroupCommit } from '../../../collector/stores/group-commit.ts';

const reading = (at: number): Reading => ({ series: 'p/temperature', at, value: 18, quality: 'good' });

/** A store that finishes each append only when told, or fails. */
const manualStore = () => {
  const groups: { readonly size: number; finish(): void; fail(error: Error): void }[] = [];
  let arrived = (): void => {};
  return {
    groups,
    next: (): Promise<void> => new Promise((resolve) => {
      arrived = resolve;
    }),
    append: (readings: readonly Reading[]): Promise<AppendOutcome> =>
      new Promise((resolve, reject) => {
        groups.push({ size: readings.length, finish: () => resolve({ outcomes: new Uint8Array(readings.length), stored: readings.length, duplicates: 0, conflicts: 0 }), fail: reject });
        arrived();
      }),
  };
};

describe('committing in groups', () => {
  it('settles a message only after the commit that holds it, and in order', async () => {
    const store = manualStore();
    const settled: string[] = [];
    const commit = createGroupCommit({ store, windowMs: 0, committed: () => settled.push('committed'), failed: () => {} });
    const first = store.next();
    for (const name of ['a', 'b', 'c']) commit.offer([reading(settled.length)], () => settled.push(name));
    await first;
    expect(store.groups.map(({ size }) => size)).toEqual([3]);
    commit.offer([reading(9)], () => settled.push('d'));
    expect(settled).toEqual([]);
    const second = store.next();
    store.groups[0]?.finish();
    await second;
    expect(settled).toEqual(['committed', 'a', 'b', 'c']);
    store.groups[1]?.finish();
    await commit.drain();
    expect(settled.at(-1)).toBe('d');
  });

  it('settles a message without readings too, in its turn', async () => {
    const store = manualStore();
    const settled: string[] = [];
    const commit = createGroupCommit({ store, windowMs: 0, committed: () => {}, failed: () => {} });
    const first = store.next();
    commit.offer([reading(1)], () => settled.push('reading'));
    commit.offer([], () => settled.push('refused'));
    await first;
    expect(settled).toEqual([]);
    store.groups[0]?.finish();
    await commit.drain();
    expect(settled).toEqual(['reading', 'refused']);
  });

  it('keeps what a failing store did not take, tries again, and acknowledges nothing meanwhile', async () => {
    const store = manualStore();
    const failures: unknown[] = [];
    let settled = 0;
    const commit = createGroupCommit({ store, windowMs: 0, committed: () => {}, failed: (error) => failures.push(error), pause: async () => {} });
    const first = store.next();
    commit.offer([reading(1), reading(2)], () => (settled += 1));
    await first;
    const again = store.next();
    store.groups[0]?.fail(new Error('disk full'));
    await again;
    expect(settled).toBe(0);
    expect(failures).toHaveLength(1);
    expect(store.groups[1]?.size).toBe(2);
    store.groups[1]?.finish();
    await commit.drain();
    expect(settled).toBe(1);
  });

  it('gives up on what can never be stored, without acknowledging it, and goes on with the rest', async () => {
    const store = manualStore();
    const settled: string[] = [];
    const commit = createGroupCommit({ store, windowMs: 0, committed: () => {}, failed: () => {}, pause: async () => {} });
    const first = store.next();
    commit.offer([reading(1)], () => settled.push('lost cause'));
    await first;
    const second = store.next();
    commit.offer([reading(2)], () => settled.push('good'));
    store.groups[0]?.fail(Object.assign(new Error('damaged'), { canRetry: false }));
    await second;
    store.groups[1]?.finish();
    await commit.drain();
    expect(settled).toEqual(['good']);
  });

  it('commits a full group at once, says when it is full, and lets senders go on when there is room', async () => {
    const store = manualStore();
    const commit = createGroupCommit({ store, windowMs: 3_600_000, groupSize: 3, mostWaiting: 4, committed: () => {}, failed: () => {} });
    let resumed = 0;
    for (const at of [1, 2, 3]) commit.offer([reading(at)], () => {});
    expect(store.groups).toHaveLength(1);
    expect(commit.full()).toBe(false);
    for (const at of [4, 5, 6, 7]) commit.offer([reading(at)], () => {});
    expect(commit.full()).toBe(true);
    commit.whenRoom(() => (resumed += 1));
    expect(resumed).toBe(0);
    const second = store.next();
    store.groups[0]?.finish();
    await second;
    store.groups[1]?.finish();
    await commit.drain();
    expect(resumed).toBe(1);
    expect(commit.waiting).toBe(0);
  });
});
