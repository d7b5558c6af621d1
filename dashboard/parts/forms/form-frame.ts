import type { BatchDetail, NewEntry } from '#contract';
import type { Failure } from '../../client/call.ts';
import type { SuggestedBrine } from '../../state/suggested-brine.ts';

/** Acts that a form writes; `corrected` wraps one of them. */
export type Act = Exclude<NewEntry, { readonly kind: 'corrected' }>;
export type ActOf<Kind extends Act['kind']> = Extract<Act, { readonly kind: Kind }>;

export interface ActFormProps<Kind extends Act['kind']> {
  readonly zone: string;
  /** What was written before, where this is a correction. */
  readonly before?: ActOf<Kind> | undefined;
  readonly saveWords: string;
  readonly onSave: (act: Act) => void;
  readonly busy: boolean;
}

/** What a form knows of the drum it is about; the story is missing where it could not be fetched. */
export interface AboutDrum {
  readonly batch: BatchDetail | null;
  readonly suggested: SuggestedBrine;
  /** As last poured, g/L. */
  readonly sameBrineGPerL: number | null;
  readonly temperatureC: number | undefined;
}

const fieldWords: Readonly<Record<string, string>> = { at: 'The time', 'replacement.at': 'The time', writtenAt: 'The time on paper', startedAt: 'The start', pickedAt: 'The day of the pick', fruitKg: 'The fruit', brineL: 'The brine', saltGPerL: 'The salt' };

/** What was refused, in a person's words: of a figure that does not fit, which and why. */
export const failureWords = (failure: Failure): string =>
  failure.code === 'does-not-fit' && failure.errors.length > 0 && failure.errors.every(({ path }) => path in fieldWords)
    ? `${failure.errors.map(({ path, message }) => `${fieldWords[path] ?? ''} ${message}`).join('; ')}. Nothing was written.`
    : [`${failure.title}.`, failure.detail, ...failure.errors.map(({ path, message }) => `${path}: ${message}.`)].join(' ');
