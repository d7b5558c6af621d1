import type { AnnouncedBody } from '#domain/announce/announced.ts';
import type { Draft } from '#domain/journal/entry.ts';
import { hourMs, toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { createAnnouncer, type Announcer } from '../../collector/outlets/announcer.ts';
import type { Letter, SendFault } from '../../collector/outlets/sender.ts';
import { createShedBook, openDrum, type ShedBook } from './shed-book.ts';

export const announceNoon = Date.UTC(2026, 9, 3, 12);

/** An announcer over a journal in memory, with an outlet whose other side the test plays. */
export interface Announcing {
  readonly book: ShedBook;
  readonly letters: Letter[];
  readonly beats: EpochMs[];
  /** What the other side answers from now on. */
  answer: SendFault;
  /** The journal takes nothing until this is false again. */
  stuck: boolean;
  /** A tick at this time, and all that it set off. */
  tick(at: EpochMs, healthy?: boolean): Promise<void>;
  restart(): void;
  announced(): AnnouncedBody[];
  readonly announcer: Announcer;
}

export const openAnnouncing = (): Announcing => {
  const book = createShedBook();
  const letters: Letter[] = [];
  const beats: EpochMs[] = [];
  let now = announceNoon;
  let waiting: Draft[] = [];
  const state = { answer: null as SendFault, stuck: false };
  openDrum(book, announceNoon - hourMs);
  const create = (): Announcer =>
    createAnnouncer({
      zone: 'UTC',
      site: { id: 'home', name: 'Home' },
      send: async (_outlet, letter) => {
        letters.push(letter);
        return state.answer;
      },
      beat: async () => {
        beats.push(now);
        return state.answer;
      },
      sayOnBus: () => null,
      sealLine: (entry) => `line of ${entry}`,
      append: (drafts) => {
        waiting.push(...drafts);
        if (state.stuck) return;
        book.append(waiting, now);
        waiting = [];
      },
      now: () => now,
    });
  let announcer = create();
  return Object.assign(state, {
    book,
    letters,
    beats,
    tick: async (at: EpochMs, healthy = true) => {
      now = at;
      announcer.tick(book.shed, at, healthy);
      await announcer.settled();
    },
    restart: () => {
      announcer = create();
    },
    announced: () => book.entries.flatMap((entry) => (entry.kind === 'announced' ? [entry.body] : [])),
    get announcer() {
      return announcer;
    },
  });
};

export const raiseWarm = (book: ShedBook, id: string, at: EpochMs): void => {
  book.write('alert-raised', { id, rule: 'leach-temperature-danger', drum: 'barrel-1', lot: null, quantity: 'temperature', priority: 'high', since: toRfc3339(at), at: toRfc3339(at), value: 31, limit: { value: 30, unit: 'Cel', source: 'a test', side: 'high' }, text: 'Barrel 1 is too warm.', advice: 'Cool it.' }, at);
};

export const addHook = (book: ShedBook): void => void book.write('outlet-set', { id: 'hook', name: 'Hook', kind: 'webhook', to: 'example.org' }, announceNoon - hourMs);
