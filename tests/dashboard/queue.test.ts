import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fail, ok, type NewEntry, type StoryEntry } from '#contract';
import type { Call, Failure } from '../../dashboard/client/call.ts';
import { createKeptStore, keptPlace, type Kept } from '../../dashboard/state/kept.ts';
import { answerWithinMs, createQueue, mostKept, type Queue } from '../../dashboard/state/queue.ts';

const at = '2027-06-11T04:54:00.000Z';
const tasted = (bitterness: number): NewEntry => ({ kind: 'tasted', at, bitterness });
const bitterness = (entry: NewEntry): number => (entry.kind === 'tasted' ? entry.bitterness : -1);
const about = { drum: 'barrel-2', drumName: 'Barrel 2', lot: 'ST27-B9', task: null };
const act = (entry: NewEntry) => ({ ...about, what: { kind: 'act', entry } as const });
const refusal = (code: Failure['code']): Failure => ({ code, title: 'No', detail: 'It is so.', errors: [] });

/** What becomes of one request: it never arrives, it arrives and its answer is lost, it is answered, or refused. */
type Fate = 'lost' | 'answer lost' | 'answered' | Failure['code'];

/** A journal that takes each key once, as the API does, at the end of a wire that may do anything. */
const createWorld = (fates: readonly Fate[] = [], remembers = true) => {
  const written: { readonly key: string; readonly entry: NewEntry; readonly sequence: number }[] = [];
  const left = [...fates];
  const asked: string[] = [];
  const timers: (() => void)[] = [];
  const world = { stored: null as string | null, closed: false, user: 'owner' as string | null, connected: true, keys: 0 };
  const write = (key: string, entry: NewEntry): StoryEntry => {
    const before = remembers ? written.find((each) => each.key === key) : undefined;
    const { sequence } = before ?? { sequence: written.length + 1 };
    if (before === undefined) written.push({ key, entry, sequence });
    return { sequence, kind: entry.kind, at, writtenAt: at, by: 'owner', body: {}, standing: true, corrects: null, correctedBy: null };
  };
  const call = (async (name: string, input: { key?: string; body?: NewEntry }) => {
    asked.push(name);
    await Promise.resolve();
    const fate = left.shift() ?? 'answered';
    if (fate === 'lost') return fail(refusal('unreachable'));
    if (fate !== 'answered' && fate !== 'answer lost') return fail(refusal(fate));
    const entry = name === 'addEntry' || (name === 'finishTask' && input.body !== undefined && 'kind' in input.body) ? write(input.key ?? '', input.body as NewEntry) : null;
    if (fate === 'answer lost') return fail(refusal('unreachable'));
    return ok(name === 'addEntry' ? entry : { task: {}, entry });
  }) as unknown as Call;
  const storage = {
    getItem: () => world.stored,
    setItem: (_: string, text: string) => {
      if (world.closed) throw new Error('closed');
      world.stored = text;
    },
  };
  /** Each is a new life of the page, on the same store. */
  const open = (over: Partial<Parameters<typeof createQueue>[0]> = {}): Queue =>
    createQueue({
      call, store: createKeptStore(storage), now: () => Date.parse(at), newKey: () => `key-${String((world.keys += 1))}`,
      after: (_, run) => {
        timers.push(run);
        return () => void timers.splice(timers.indexOf(run), 1);
      },
      user: () => world.user, connected: () => world.connected, ...over,
    });
  const drain = async (queue: Queue): Promise<void> => {
    left.length = 0;
    await queue.send();
  };
  return { world, written, asked, timers, open, drain, left };
};

describe('an act at the phone', () => {
  it('is written at once while there is a connection, and nothing stays behind', async () => {
    const { open, written } = createWorld();
    const queue = open();
    expect(await queue.submit(act(tasted(4)))).toMatchObject({ state: 'sent', entry: { sequence: 1 } });
    expect(written.map(({ entry }) => entry)).toEqual([tasted(4)]);
    expect(queue.items.value).toEqual([]);
  });

  it('is kept without one, in order, and sent once when it is back', async () => {
    const { open, written, drain, world } = createWorld();
    const queue = open();
    world.connected = false;
    for (const score of [1, 2, 3]) expect((await queue.submit(act(tasted(score)))).state).toBe('kept');
    expect(written).toEqual([]);
    expect(queue.items.value).toHaveLength(3);
    world.connected = true;
    await drain(queue);
    expect(written.map(({ entry }) => bitterness(entry))).toEqual([1, 2, 3]);
    expect(queue.items.value).toEqual([]);
  });

  it('that comes while others wait goes behind them', async () => {
    const { open, written, world } = createWorld();
    const queue = open();
    world.connected = false;
    await queue.submit(act(tasted(1)));
    world.connected = true;
    expect((await queue.submit(act(tasted(2)))).state).toBe('sent');
    expect(written.map(({ entry }) => bitterness(entry))).toEqual([1, 2]);
  });

  it('survives the page: the next one sends it', async () => {
    const { open, written, world, drain } = createWorld();
    world.connected = false;
    await open().submit(act(tasted(7)));
    world.connected = true;
    const next = open();
    expect(next.items.value).toHaveLength(1);
    await drain(next);
    expect(written.map(({ entry }) => bitterness(entry))).toEqual([7]);
  });

  it('is never lost, never written twice and never out of order, whatever the wire and the page do', async () => {
    const fate = fc.constantFrom<Fate>('lost', 'answer lost', 'answered', 'internal', 'not-understood', 'not-ready');
    await fc.assert(
      fc.asyncProperty(fc.array(fate, { maxLength: 40 }), fc.array(fc.constantFrom('act', 'send', 'reopen'), { maxLength: 20 }), async (fates, steps) => {
        const { open, written, drain } = createWorld(fates);
        let queue = open();
        let acts = 0;
        for (const step of steps) {
          if (step === 'act') await queue.submit(act(tasted((acts += 1))));
          else if (step === 'send') await queue.send();
          else queue = open();
        }
        await drain(queue);
        expect(written.map(({ entry }) => bitterness(entry))).toEqual(Array.from({ length: acts }, (_, index) => index + 1));
        expect(queue.items.value).toEqual([]);
      }),
      { seed: 4, numRuns: 300 },
    );
  });

  it('would be written twice by a server that forgets its keys: the check above can fail', async () => {
    const { open, written, drain } = createWorld(['answer lost'], false);
    const queue = open();
    await queue.submit(act(tasted(1)));
    await drain(queue);
    expect(written).toHaveLength(2);
  });

  it('waits no longer than five seconds for an answer', async () => {
    const { open, timers } = createWorld();
    const queue = open({ call: (() => new Promise(() => undefined)) as unknown as Call });
    const outcome = queue.submit(act(tasted(1)));
    await new Promise(setImmediate);
    expect(answerWithinMs).toBe(5_000);
    // On its way for the first time it is nothing to tell anybody of.
    expect([queue.items.value.length, queue.kept.value.length]).toEqual([1, 0]);
    timers[0]?.();
    expect((await outcome).state).toBe('kept');
    expect(queue.kept.value).toHaveLength(1);
  });

  it('is tried again after two seconds, then less and less often, up to twenty', async () => {
    const pauses: number[] = [];
    const { open } = createWorld(Array.from({ length: 8 }, () => 'lost' as const));
    const queue = open({ after: (ms) => (ms === answerWithinMs || pauses.push(ms), () => undefined) });
    await queue.submit(act(tasted(1)));
    for (let count = 0; count < 5; count += 1) await queue.send();
    expect(pauses).toEqual([2_000, 4_000, 8_000, 16_000, 20_000, 20_000]);
  });

  it('is sent again by itself later', async () => {
    const { open, timers, written, left } = createWorld(['lost']);
    const queue = open();
    await queue.submit(act(tasted(1)));
    left.length = 0;
    timers.at(-1)?.();
    await queue.send();
    expect(written).toHaveLength(1);
  });
});

describe('what is kept', () => {
  it('ends at two hundred, and says so', async () => {
    const { open, world } = createWorld();
    world.connected = false;
    const queue = open();
    for (let count = 0; count < mostKept; count += 1) await queue.submit(act(tasted(1)));
    const outcome = await queue.submit(act(tasted(2)));
    expect(outcome).toMatchObject({ state: 'refused', failure: { title: 'This phone is full' } });
    expect(queue.items.value).toHaveLength(200);
  });

  it('is under the name of whoever did it: another person neither sends nor loses it', async () => {
    const { open, world, written } = createWorld();
    world.connected = false;
    const queue = open();
    await queue.submit(act(tasted(1)));
    world.connected = true;
    world.user = 'helper';
    await queue.submit(act(tasted(2)));
    expect(written.map(({ entry }) => bitterness(entry))).toEqual([2]);
    world.user = 'owner';
    await queue.send();
    expect(written.map(({ entry }) => bitterness(entry))).toEqual([2, 1]);
  });

  it('is shared by the tabs of a browser', async () => {
    const { open, world, drain, written } = createWorld();
    world.connected = false;
    const [one, other] = [open(), open()];
    await one.submit(act(tasted(1)));
    await other.submit(act(tasted(2)));
    one.look();
    expect(one.items.value.map(({ what }) => (what.kind === 'act' ? bitterness(what.entry) : 0))).toEqual([1, 2]);
    world.connected = true;
    await Promise.all([drain(one), drain(other)]);
    expect(written).toHaveLength(2);
  });

  it('lives as long as the page where the browser keeps nothing, and that is told', async () => {
    const { open, world, written, drain } = createWorld();
    world.connected = false;
    world.closed = true;
    const queue = open();
    await queue.submit(act(tasted(1)));
    expect(queue.lasting.value).toBe(false);
    expect(queue.items.value).toHaveLength(1);
    world.connected = true;
    await drain(queue);
    expect(written).toHaveLength(1);
  });

  it('is not believed where the store takes everything and keeps nothing', () => {
    const store = createKeptStore({ getItem: () => null, setItem: () => undefined });
    expect(store.write([])).toBe(false);
  });

  it('is read leniently: what is not understood does not stop the page', () => {
    for (const text of ['', '{', '4', '[4, null, {"key": "a"}]']) expect(createKeptStore({ getItem: (name) => (name === keptPlace ? text : null), setItem: () => undefined }).read()).toEqual([]);
  });
});

describe('a refused act', () => {
  it('is told at once to whoever stands there, and not kept', async () => {
    const { open } = createWorld(['does-not-fit']);
    const queue = open();
    expect(await queue.submit(act(tasted(11)))).toMatchObject({ state: 'refused', failure: { code: 'does-not-fit' } });
    expect(queue.items.value).toEqual([]);
  });

  it('that was kept stays, with the reason, and does not stop the others; mended it is written, dropped it is gone', async () => {
    const { open, world, left, written } = createWorld();
    const queue = open();
    world.connected = false;
    for (const score of [1, 2, 3]) await queue.submit(act(tasted(score)));
    world.connected = true;
    left.push('wrong-state', 'answered', 'does-not-fit');
    await queue.send();
    expect(written.map(({ entry }) => bitterness(entry))).toEqual([2]);
    expect(queue.refused.value.map(({ refused }) => refused?.detail)).toEqual(['It is so.', 'It is so.']);
    const [first, third] = queue.items.value as readonly [Kept, Kept];
    await queue.mend(first.key, { kind: 'act', entry: tasted(9) });
    queue.drop(third.key);
    expect(written.map(({ entry }) => bitterness(entry))).toEqual([2, 9]);
    expect(queue.items.value).toEqual([]);
  });
});

describe('taking back', () => {
  it('what was never sent leaves no trace', async () => {
    const { open, world, drain, written } = createWorld();
    const queue = open();
    world.connected = false;
    const outcome = await queue.submit(act(tasted(1)));
    if (outcome.state === 'kept') await queue.takeBack(outcome.key);
    expect(queue.items.value).toEqual([]);
    world.connected = true;
    await drain(queue);
    expect(written).toEqual([]);
  });

  it('what is in the journal writes a correction of that entry', async () => {
    const { open, written } = createWorld();
    const queue = open();
    const outcome = await queue.submit(act(tasted(1)));
    if (outcome.state === 'sent') expect(await queue.takeBack(outcome.key)).toBeNull();
    expect(written[1]?.entry).toMatchObject({ kind: 'corrected', entry: 1, replacement: null });
  });

  it.each<[Fate, string]>([['answer lost', 'was written'], ['lost', 'was not written']])('what was sent and whose answer is missing (%s) ends taken back, if it %s', async (fate) => {
    const { open, written, drain } = createWorld([fate]);
    const queue = open();
    const outcome = await queue.submit(act(tasted(1)));
    if (outcome.state !== 'kept') throw new Error('kept');
    await queue.takeBack(outcome.key);
    await drain(queue);
    expect(written.map(({ entry }) => entry.kind)).toEqual(['tasted', 'corrected']);
    expect(queue.items.value).toEqual([]);
  });
});

describe('a task', () => {
  const change: NewEntry = { kind: 'brine-changed', at, brineL: 26, saltGPerL: 67 };
  it('is done with its act; settled by somebody else meanwhile, the act is written all the same', async () => {
    const { open, asked, written } = createWorld(['not-found']);
    await open().submit({ ...act(change), task: 'st27-b9-change-brine' });
    expect(asked).toEqual(['finishTask', 'addEntry']);
    expect(written).toHaveLength(1);
  });

  it('left out or done without an act is settled by whoever settled it', async () => {
    const { open, asked } = createWorld(['not-found', 'not-found']);
    const queue = open();
    expect((await queue.submit({ ...about, task: 't-1', what: { kind: 'skip', title: 'Taste', reason: 'no time' } })).state).toBe('sent');
    expect((await queue.submit({ ...about, task: 't-2', what: { kind: 'finish', title: 'Review' } })).state).toBe('sent');
    expect(asked).toEqual(['skipTask', 'finishTask']);
  });
});
