import { describe, expect, it } from 'vitest';
import { graceMs, openLive, silentMs, type EventSourceLike, type LiveMessage } from '../../dashboard/client/live.ts';
import { createLink } from '../../dashboard/state/link.ts';

/** A clock turned by hand, and streams that say what they are told. */
const createWorld = () => {
  let now = 0;
  const timers = new Set<{ at: number; run: () => void }>();
  const streams: (EventSourceLike & { readyState: number; say: (name: string, data?: unknown) => void; closed: boolean })[] = [];
  return {
    streams,
    clock: {
      now: () => now,
      after: (ms: number, run: () => void) => {
        const timer = { at: now + ms, run };
        timers.add(timer);
        return () => void timers.delete(timer);
      },
    },
    pass: (ms: number) => {
      const until = now + ms;
      for (;;) {
        const next = [...timers].filter(({ at }) => at <= until).toSorted((a, b) => a.at - b.at)[0];
        if (next === undefined) break;
        timers.delete(next);
        now = next.at;
        next.run();
      }
      now = until;
    },
    open: () => {
      const listeners = new Map<string, ((event: { data?: unknown }) => void)[]>();
      const stream = {
        readyState: 0,
        closed: false,
        addEventListener: (name: string, listener: (event: { data?: unknown }) => void) => void listeners.set(name, [...(listeners.get(name) ?? []), listener]),
        close: () => {
          stream.closed = true;
        },
        say: (name: string, data?: unknown) => {
          for (const listener of listeners.get(name) ?? []) listener(data === undefined ? {} : { data });
        },
      };
      streams.push(stream);
      return stream;
    },
  };
};

const start = () => {
  const world = createWorld();
  const states: (readonly [string, number | null])[] = [];
  const messages: LiveMessage[] = [];
  const unfit: string[] = [];
  const stop = openLive(world.open, world.clock, { message: (message) => messages.push(message), state: (state, silentFor) => states.push([state, silentFor]), unfit: (name) => unfit.push(name) });
  return { world, states, messages, unfit, stop, last: () => states.at(-1)?.[0] };
};

const health = JSON.stringify({ status: 'ok', version: '1', now: '2027-06-11T04:54:00.000Z' });

describe('the event stream', () => {
  it('is live once it opens, and hands on what the contract knows', () => {
    const { world, messages, last } = start();
    expect(last()).toBeUndefined();
    world.streams[0]?.say('open');
    world.streams[0]?.say('health', health);
    expect(last()).toBe('live');
    expect(messages).toEqual([{ name: 'health', data: JSON.parse(health) as unknown }]);
  });

  it('drops and counts a message that does not fit, and stays live', () => {
    const { world, messages, unfit, last } = start();
    world.streams[0]?.say('drum', '{"id": 4}');
    world.streams[0]?.say('alert', 'not json');
    expect(unfit).toEqual(['drum', 'alert']);
    expect(messages).toEqual([]);
    expect(last()).toBe('live');
  });

  it('overlooks a hiccup but not a loss, and says how long it has heard nothing', () => {
    const { world, states, last } = start();
    const [stream] = world.streams;
    stream?.say('open');
    stream?.say('error');
    world.pass(graceMs - 1);
    expect(last()).toBe('live');
    world.pass(1);
    expect(states.at(-1)).toEqual(['lost', graceMs]);
    stream?.say('open');
    expect(last()).toBe('live');
  });

  it('leaves a broken stream to the browser, which resumes it, and opens a refused one anew with a growing pause', () => {
    const { world } = start();
    world.streams[0]?.say('error');
    world.pass(60_000);
    expect(world.streams).toHaveLength(1);
    const refuse = (): void => {
      const stream = world.streams.at(-1);
      if (stream === undefined) return;
      stream.readyState = 2;
      stream.say('error');
    };
    const opened: number[] = [];
    for (let round = 0; round < 6; round += 1) {
      refuse();
      const before = world.streams.length;
      let waited = 0;
      while (world.streams.length === before) {
        world.pass(500);
        waited += 500;
      }
      opened.push(waited);
    }
    expect(opened).toEqual([1_000, 2_000, 4_000, 8_000, 15_000, 15_000]);
  });

  it('takes a stream for frozen when nothing comes, opens another, and says so within ninety seconds', () => {
    const { world, last } = start();
    world.streams[0]?.say('open');
    world.pass(silentMs - 1);
    expect(last()).toBe('live');
    expect(world.streams).toHaveLength(1);
    world.pass(1);
    expect(world.streams).toHaveLength(2);
    expect(world.streams[0]?.closed).toBe(true);
    world.pass(graceMs);
    expect(last()).toBe('lost');
    expect(silentMs + graceMs).toBeLessThanOrEqual(90_000);
    // What the old stream still says counts for nothing.
    world.streams[0]?.say('health', health);
    expect(last()).toBe('lost');
    world.streams[1]?.say('open');
    expect(last()).toBe('live');
  });

  it('is silent once stopped', () => {
    const { world, states, stop } = start();
    stop();
    world.streams[0]?.say('open');
    world.pass(200_000);
    expect(states).toEqual([]);
    expect(world.streams).toHaveLength(1);
  });
});

describe('the link', () => {
  it('tells since when in the time of the shed, and calls whoever waits when it is regained', () => {
    const world = createWorld();
    const shedNow = 5_000_000;
    const link = createLink((handlers) => openLive(world.open, world.clock, handlers), () => shedNow);
    let regained = 0;
    link.onRegained(() => {
      regained += 1;
    });
    link.start();
    world.streams[0]?.say('open');
    expect(link.connection.value).toEqual({ state: 'live' });
    expect(regained).toBe(0);
    world.streams[0]?.say('error');
    world.pass(10_000);
    expect(link.connection.value).toEqual({ state: 'lost', heardAt: shedNow - graceMs });
    world.streams[0]?.say('open');
    expect(link.connection.value).toEqual({ state: 'live' });
    expect(regained).toBe(1);
  });
});
