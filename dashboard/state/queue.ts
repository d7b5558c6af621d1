import { computed, signal, type ReadonlySignal } from '@preact/signals';
import { fail, ok, type Result, type StoryEntry } from '#contract';
import type { Call, Failure } from '../client/call.ts';
import type { Kept, KeptStore, ToWrite } from './kept.ts';

/**
 * Acts on their way into the journal. Each is kept at this phone first and sent then, in order, under a key of its own, until an answer
 * comes: a lost connection, a lost answer or a page that is closed in between can neither lose an act nor write it twice.
 */
export type Outcome =
  | { readonly state: 'sent'; readonly key: string; readonly entry: StoryEntry | null }
  | { readonly state: 'kept'; readonly key: string }
  | { readonly state: 'refused'; readonly failure: Failure };

export interface Queue {
  /** All that is not in the journal yet. */
  readonly items: ReadonlySignal<readonly Kept[]>;
  /** The same without what is on its way for the first time: what a person is told of. */
  readonly kept: ReadonlySignal<readonly Kept[]>;
  readonly refused: ReadonlySignal<readonly Kept[]>;
  /** False where the browser keeps nothing: acts then live only as long as the page. */
  readonly lasting: ReadonlySignal<boolean>;
  /** Writes, or keeps what cannot be sent now. What is refused at once is told and not kept. */
  readonly submit: (given: ToWrite) => Promise<Outcome>;
  /** Sends what is kept, oldest first, until something does not get through. */
  readonly send: () => Promise<void>;
  /** Undoes an act, wherever it is by now: not sent, on its way, or in the journal. */
  readonly takeBack: (key: string) => Promise<Failure | null>;
  readonly drop: (key: string) => void;
  /** A refused one, put right. */
  readonly mend: (key: string, what: Kept['what']) => Promise<void>;
  /** Another tab of this browser has changed what is kept. */
  readonly look: () => void;
}

export interface QueueNeeds {
  readonly call: Call;
  readonly store: KeptStore;
  readonly now: () => number;
  readonly newKey: () => string;
  readonly after: (ms: number, run: () => void) => () => void;
  /** Who is signed in; null while nobody is. */
  readonly user: () => string | null;
  /** False while the connection is known to be lost: then nothing is tried. */
  readonly connected: () => boolean;
}

export const mostKept = 200;
/** Longer nobody stands there waiting with wet hands; what is answered later is known by its key. */
export const answerWithinMs = 5_000;
const firstPauseMs = 2_000;
const longestPauseMs = 20_000;

/** Nothing is wrong with the act: it is tried again. */
const later: ReadonlySet<Failure['code']> = new Set<Failure['code']>(['unreachable', 'not-understood', 'not-signed-in', 'not-ready', 'internal', 'too-many-tries', 'too-many-listeners']);
/** Somebody has settled the task meanwhile; what was done was done all the same. */
const settled: ReadonlySet<Failure['code']> = new Set<Failure['code']>(['not-found', 'wrong-state']);

const full: Failure = { code: 'too-large', title: 'This phone is full', detail: `${String(mostKept)} acts wait here to be sent. Bring the connection back first; this one was not written.`, errors: [] };
const slow: Failure = { code: 'unreachable', title: 'No answer', detail: 'The shed computer has not answered.', errors: [] };

export const createQueue = ({ call, store, now, newKey, after, user, connected }: QueueNeeds): Queue => {
  const items = signal<readonly Kept[]>(store.read());
  const lasting = signal(true);
  const fresh = signal<ReadonlySet<string>>(new Set());
  const sent = new Map<string, { readonly kept: Kept; readonly sequence: number }>();
  const asked = new Map<string, Outcome>();
  let running: Promise<void> = Promise.resolve();
  let busy = false;
  let pauseMs = firstPauseMs;
  let cancelAgain: (() => void) | null = null;

  /** Other tabs write in the same place: what stands there is changed, not what this page remembers. */
  const change = (turn: (kept: readonly Kept[]) => readonly Kept[]): void => {
    const next = turn(lasting.value ? store.read() : items.value);
    lasting.value = store.write(next);
    items.value = next;
  };
  const put = (key: string, over: Partial<Kept>): void => change((kept) => kept.map((each) => (each.key === key ? { ...each, ...over } : each)));
  const remove = (key: string): void => change((kept) => kept.filter((each) => each.key !== key));
  const find = (key: string): Kept | undefined => items.value.find((each) => each.key === key);

  const inTime = <Value>(answer: Promise<Result<Value, Failure>>): Promise<Result<Value, Failure>> =>
    new Promise((resolve) => {
      const cancel = after(answerWithinMs, () => resolve(fail(slow)));
      void answer.then((value) => {
        cancel();
        resolve(value);
      });
    });

  const deliver = async ({ key, lot, task, what }: Kept): Promise<Result<StoryEntry | null, Failure>> => {
    if (what.kind === 'act') {
      if (task !== null) {
        const done = await inTime(call('finishTask', { params: { id: task }, body: what.entry, key }));
        if (done.ok) return ok(done.value.entry);
        if (!settled.has(done.error.code)) return done;
      }
      return inTime(call('addEntry', { params: { lot }, body: what.entry, key }));
    }
    const id = task ?? '';
    const answer = what.kind === 'finish' ? await inTime(call('finishTask', { params: { id }, body: {}, key })) : await inTime(call('skipTask', { params: { id }, body: { reason: what.reason } }));
    // A task that is open no longer needs nobody: by this very message, whose answer was lost, or by somebody else.
    return answer.ok || settled.has(answer.error.code) ? ok(null) : answer;
  };

  const correctionOf = (kept: Kept, sequence: number, key: string): Kept => ({
    ...kept, key, task: null, what: { kind: 'act', entry: { kind: 'corrected', entry: sequence, reason: 'taken back at once', replacement: null } }, tried: false, takeBack: null, refused: null,
  });

  /** Only where somebody waits for it. */
  const tell = (key: string, outcome: Outcome): void => {
    if (fresh.value.has(key)) asked.set(key, outcome);
  };

  /** True when the next one may follow. */
  const sendOne = async (kept: Kept): Promise<boolean> => {
    put(kept.key, { tried: true });
    const answer = await deliver(kept);
    if (answer.ok) {
      pauseMs = firstPauseMs;
      const takeBack = find(kept.key)?.takeBack ?? null;
      const sequence = answer.value?.sequence;
      if (takeBack !== null && sequence !== undefined) change((all) => all.map((each) => (each.key === kept.key ? correctionOf(kept, sequence, takeBack) : each)));
      else remove(kept.key);
      if (sequence !== undefined) sent.set(kept.key, { kept, sequence });
      tell(kept.key, { state: 'sent', key: kept.key, entry: answer.value });
      return true;
    }
    if (later.has(answer.error.code)) return false;
    // A refused act was never written: there is nothing to take back.
    if (find(kept.key)?.takeBack != null) remove(kept.key);
    else put(kept.key, { refused: { title: answer.error.title, detail: answer.error.detail } });
    tell(kept.key, { state: 'refused', failure: answer.error });
    return true;
  };

  const waits = (each: Kept): boolean => each.refused === null && each.by === user();

  const run = async (): Promise<void> => {
    busy = true;
    for (;;) {
      const next = items.value.find(waits);
      if (next === undefined || !connected() || !(await sendOne(next))) break;
    }
    busy = false;
    cancelAgain?.();
    cancelAgain = null;
    if (!items.value.some(waits)) return;
    cancelAgain = after(pauseMs, () => void send());
    pauseMs = Math.min(pauseMs * 2, longestPauseMs);
  };

  const send = (): Promise<void> => {
    running = running.then(run);
    return running;
  };

  const submit: Queue['submit'] = async (given) => {
    if (items.value.length >= mostKept) return { state: 'refused', failure: full };
    const key = newKey();
    fresh.value = new Set([...fresh.value, key]);
    change((kept) => [...kept, { ...given, key, keptAt: new Date(now()).toISOString(), by: user() ?? '', tried: false, takeBack: null, refused: null }]);
    await send();
    const outcome = asked.get(key) ?? { state: 'kept', key };
    // The person is still there and is told: the form keeps what was entered.
    if (outcome.state === 'refused') remove(key);
    asked.delete(key);
    fresh.value = new Set([...fresh.value].filter((each) => each !== key));
    return outcome;
  };

  return {
    items,
    kept: computed(() => items.value.filter(({ key }) => !fresh.value.has(key))),
    refused: computed(() => items.value.filter(({ refused }) => refused !== null)),
    lasting,
    submit,
    send,
    takeBack: async (key) => {
      const kept = find(key);
      if (kept !== undefined && !kept.tried) remove(key);
      else if (kept !== undefined) {
        put(key, { takeBack: newKey() });
        if (!busy) await send();
      } else {
        const known = sent.get(key);
        if (known === undefined) return null;
        const outcome = await submit({ ...known.kept, task: null, what: correctionOf(known.kept, known.sequence, '').what });
        if (outcome.state === 'refused') return outcome.failure;
      }
      return null;
    },
    drop: remove,
    mend: async (key, what) => {
      put(key, { what, refused: null });
      await send();
    },
    look: () => {
      items.value = store.read();
    },
  };
};
