import { computed, effect, signal, type ReadonlySignal, type Signal } from '@preact/signals';
import { metric, type UnitChoice } from '../format/units.ts';

/** What this one screen prefers; kept in the browser, never sent. */
export const themes = ['auto', 'day', 'night'] as const;
export type Theme = (typeof themes)[number];

export interface Settings {
  readonly theme: Signal<Theme>;
  readonly units: Signal<UnitChoice>;
  readonly sound: Signal<boolean>;
  /** The theme after `auto` is resolved. */
  readonly shownTheme: ReadonlySignal<'day' | 'night'>;
}

const key = 'brineward.screen';

const oneOf = <Value extends string>(value: unknown, options: readonly Value[], otherwise: Value): Value =>
  options.includes(value as Value) ? (value as Value) : otherwise;

/** Reads leniently: a value from an older page, or a storage that is closed, never stops a screen. */
const read = (storage: Pick<Storage, 'getItem'>): Readonly<Record<string, unknown>> => {
  try {
    const stored: unknown = JSON.parse(storage.getItem(key) ?? '{}');
    return typeof stored === 'object' && stored !== null ? (stored as Record<string, unknown>) : {};
  } catch {
    return {};
  }
};

export const createSettings = (storage: Pick<Storage, 'getItem' | 'setItem'>, darkOutside: ReadonlySignal<boolean>): Settings => {
  const stored = read(storage);
  const theme = signal(oneOf(stored['theme'], themes, 'auto'));
  const units = signal<UnitChoice>({
    temperature: oneOf(stored['temperature'], ['C', 'F'], metric.temperature),
    mass: oneOf(stored['mass'], ['g', 'oz'], metric.mass),
    volume: oneOf(stored['volume'], ['L', 'gal'], metric.volume),
  });
  const sound = signal(stored['sound'] === true);
  effect(() => {
    const chosen = JSON.stringify({ theme: theme.value, ...units.value, sound: sound.value });
    try {
      storage.setItem(key, chosen);
    } catch {
      // A full or closed storage: the choice holds until the page is left.
    }
  });
  const shownTheme = computed(() => (theme.value === 'auto' ? (darkOutside.value ? 'night' : 'day') : theme.value));
  return { theme, units, sound, shownTheme };
};
