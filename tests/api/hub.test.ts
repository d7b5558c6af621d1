import { describe, expect, it } from 'vitest';
import type { Health } from '#contract';
import { createHub, mostBehindBytes, mostClients, mostRemembered, type Hub, type Listener, type Snapshot } from '../../api/events/hub.ts';
import { createEventParser, type StreamEvent } from '../helpers/event-stream.ts';

/** The fan-out with listeners made here: their network takes what the test lets it take. */
interface TestListener extends Listener {
  readonly events: readonly StreamEvent[];
  readonly state: 'open' | 'ended' | 'cut';
  readonly lastId: string;
  unsent: number;
  welcome: boolean;
}

const createListener = (lastId = ''): TestListener => {
  const parser = createEventParser(lastId);
  const events: StreamEvent[] = [];
  let state: TestListener['state'] = 'open';
  return {
    events,
    unsent: 0,
    welcome: true,
    get state() {
      return state;
    },
    get lastId() {
      return parser.lastEventId;
    },
    write: (text) => {
      events.push(...parser.push(text));
    },
    behind() {
      return this.unsent;
    },
    allowed() {
      return this.welcome;
    },
    end: () => {
      state = 'ended';
    },
    cut: () => {
      state = 'cut';
    },
  };
};

const health = (version: string): Health & { now: string } => ({ status: 'ok', version, now: '' });
const say = (hub: Hub, ...versions: readonly (string | number)[]): void => {
  for (const version of versions) hub.send('health', health(String(version)));
};
const snapshotOf = (...versions: readonly string[]) => async (): Promise<readonly Snapshot[]> => versions.map((version) => ({ name: 'health', data: health(version) }));
const noSnapshot = (): Promise<never> => Promise.reject(new Error('nobody should have asked for everything'));
const versions = ({ events }: TestListener): unknown[] => events.map(({ data }) => (data as Health).version);

describe('a new listener', () => {
  it('is sent everything once, then what happens', async () => {
    const hub = createHub('a');
    const listener = createListener();
    say(hub, 1);
    await hub.join(listener, null, snapshotOf('all', 'of it'));
    say(hub, 2, 3);
    expect(versions(listener)).toEqual(['all', 'of it', '2', '3']);
  });

  it('misses nothing that happens while the snapshot is made, and hears it after the snapshot', async () => {
    const hub = createHub('a');
    const listener = createListener();
    const ready = Promise.withResolvers<readonly Snapshot[]>();
    const joined = hub.join(listener, null, () => ready.promise);
    say(hub, 1, 2);
    expect(versions(listener)).toEqual([]);
    ready.resolve([{ name: 'health', data: health('all') }]);
    await joined;
    say(hub, 3);
    expect(versions(listener)).toEqual(['all', '1', '2', '3']);
  });

  it('that loses the connection within its snapshot is sent everything again, not taken for caught up', async () => {
    const hub = createHub('a');
    const full = createListener();
    say(hub, 1, 2);
    await hub.join(full, null, snapshotOf('one', 'two', 'three'));
    // What a browser would send as Last-Event-ID after each event of the snapshot.
    expect(full.events.map(({ lastEventId }) => lastEventId)).toEqual(['', '', 'a-2']);
    const again = createListener();
    await hub.join(again, full.events[1]?.lastEventId ?? null, snapshotOf('one', 'two', 'three'));
    expect(versions(again)).toEqual(['one', 'two', 'three']);
  });

  it('that has left before its snapshot was ready is not written to', async () => {
    const hub = createHub('a');
    const listener = createListener();
    const ready = Promise.withResolvers<readonly Snapshot[]>();
    const joined = hub.join(listener, null, () => ready.promise);
    hub.leave(listener);
    ready.resolve([{ name: 'health', data: health('all') }]);
    await joined;
    say(hub, 1);
    expect(versions(listener)).toEqual([]);
    expect(hub.listeners).toBe(0);
  });
});

describe('a listener that comes back', () => {
  it('hears exactly what it missed, wherever the connection broke', async () => {
    const hub = createHub('a');
    const first = createListener();
    await hub.join(first, null, snapshotOf('all'));
    say(hub, 1, 2, 3, 4, 5);
    for (const [index, { lastEventId }] of first.events.entries()) {
      const back = createListener(lastEventId);
      await hub.join(back, back.lastId, noSnapshot);
      expect(versions(back)).toEqual(['1', '2', '3', '4', '5'].slice(index));
      hub.leave(back);
    }
  });

  it.each(['b-3', 'a-', 'a-x', 'a-1e0', 'a- 1', 'a--1', 'a-99', '3', '', 'a-9999999999999999999'])('with an id nobody knows, %j, is sent everything', async (lastId) => {
    const hub = createHub('a');
    say(hub, 1, 2, 3);
    const listener = createListener();
    await hub.join(listener, lastId, snapshotOf('all'));
    expect(versions(listener)).toEqual(['all']);
    expect(listener.lastId).toBe('a-3');
  });

  it('after more than is remembered is sent everything; after just as much, only that', async () => {
    const hub = createHub('a');
    say(hub, ...Array.from({ length: mostRemembered + 10 }, (_, index) => index + 1));
    const just = createListener();
    await hub.join(just, 'a-10', noSnapshot);
    expect(just.events).toHaveLength(mostRemembered);
    const longer = createListener();
    await hub.join(longer, 'a-9', snapshotOf('all'));
    expect(versions(longer)).toEqual(['all']);
  });

  it('must come once more if too much happened while its snapshot was made', async () => {
    const hub = createHub('a');
    const listener = createListener();
    const ready = Promise.withResolvers<readonly Snapshot[]>();
    const joined = hub.join(listener, null, () => ready.promise);
    say(hub, ...Array.from({ length: mostRemembered + 1 }, (_, index) => index));
    ready.resolve([{ name: 'health', data: health('all') }]);
    await joined;
    expect(listener.state).toBe('ended');
    expect(hub.listeners).toBe(0);
  });
});

describe('limits', () => {
  it('a listener that does not take what it is sent is cut off; the others do not notice', async () => {
    const hub = createHub('a');
    const [slow, quick] = [createListener(), createListener()];
    await hub.join(slow, null, snapshotOf('all'));
    await hub.join(quick, null, snapshotOf('all'));
    slow.unsent = mostBehindBytes;
    say(hub, 1);
    expect(slow.state).toBe('open');
    slow.unsent = mostBehindBytes + 1;
    say(hub, 2, 3);
    expect(slow.state).toBe('cut');
    expect(versions(slow)).toEqual(['all', '1']);
    expect(versions(quick)).toEqual(['all', '1', '2', '3']);
    expect(hub.listeners).toBe(1);
  });

  it('a big shed is still sent whole: the first snapshot does not count as falling behind', async () => {
    const hub = createHub('a');
    const listener = createListener();
    listener.unsent = mostBehindBytes + 1;
    await hub.join(listener, null, snapshotOf(...Array.from({ length: 1_000 }, (_, index) => String(index))));
    expect(listener.events).toHaveLength(1_000);
  });

  it('is full with so many listeners, those still waiting for their snapshot counted', async () => {
    const hub = createHub('a');
    for (let count = 0; count < mostClients - 1; count += 1) await hub.join(createListener(), null, snapshotOf());
    expect(hub.isFull).toBe(false);
    const last = createListener();
    void hub.join(last, null, () => new Promise(() => undefined));
    expect(hub.isFull).toBe(true);
    hub.leave(last);
    expect(hub.isFull).toBe(false);
  });

  it('those who may no longer listen are ended at the next beat', async () => {
    const hub = createHub('a');
    const [leaving, staying] = [createListener(), createListener()];
    await hub.join(leaving, null, snapshotOf());
    await hub.join(staying, null, snapshotOf());
    leaving.welcome = false;
    hub.beat();
    expect([leaving.state, staying.state, hub.listeners]).toEqual(['ended', 'open', 1]);
  });

  it('closing ends every stream, also of those still waiting', async () => {
    const hub = createHub('a');
    const [here, waiting] = [createListener(), createListener()];
    await hub.join(here, null, snapshotOf());
    void hub.join(waiting, null, () => new Promise(() => undefined));
    hub.close();
    expect([here.state, waiting.state, hub.listeners]).toEqual(['ended', 'ended', 0]);
  });
});
