import type { NewEntry } from '#contract';

/** What a person did at this phone and has not been written in the journal yet. */
export interface Kept {
  /** The mark under which it is sent, however often: the journal takes it once. */
  readonly key: string;
  readonly keptAt: string;
  /** Whoever was signed in: nobody else's name may stand under it. */
  readonly by: string;
  readonly drum: string;
  readonly drumName: string;
  readonly lot: string;
  /** The task it settles, where it settles one. */
  readonly task: string | null;
  readonly what: KeptWhat;
  /** It was sent at least once and no answer came: it may stand in the journal already. */
  readonly tried: boolean;
  /** Taken back while nobody knows whether it was written: the key of the correction that follows it. */
  readonly takeBack: string | null;
  /** Why the shed computer did not take it; such a one waits to be mended or dropped. */
  readonly refused: { readonly title: string; readonly detail: string } | null;
}

/** `title`: of the task, for whoever reads what is kept. */
export type KeptWhat = { readonly kind: 'act'; readonly entry: NewEntry } | { readonly kind: 'finish'; readonly title: string } | { readonly kind: 'skip'; readonly title: string; readonly reason: string };

/** What a screen asks to be written. */
export type ToWrite = Pick<Kept, 'drum' | 'drumName' | 'lot' | 'task' | 'what'>;

/** Where acts are kept between two lives of the page. Told apart: nothing there, and a store that is closed or full. */
export interface KeptStore {
  readonly read: () => readonly Kept[];
  /** False where the browser did not take it: then it lives only as long as the page. */
  readonly write: (kept: readonly Kept[]) => boolean;
}

const place = 'brineward.kept';

const isKept = (value: unknown): value is Kept =>
  typeof value === 'object' && value !== null && ['key', 'by', 'drum', 'lot'].every((name) => typeof (value as Record<string, unknown>)[name] === 'string') && typeof (value as Record<string, unknown>)['what'] === 'object';

export const createKeptStore = (storage: Pick<Storage, 'getItem' | 'setItem'>): KeptStore => ({
  read: () => {
    let text: string | null = null;
    try {
      text = storage.getItem(place);
      const stored: unknown = JSON.parse(text ?? '[]');
      return Array.isArray(stored) ? stored.filter(isKept) : [];
    } catch {
      return [];
    }
  },
  write: (kept) => {
    const text = JSON.stringify(kept);
    try {
      storage.setItem(place, text);
      // A closed store takes everything and keeps nothing.
      return storage.getItem(place) === text;
    } catch {
      return false;
    }
  },
});

/** The name of the place, for whoever listens to other tabs of the same browser. */
export const keptPlace = place;
