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

export const failureWords = (failure: Failure): string => [`${failure.title}.`, failure.detail, ...failure.errors.map(({ path, message }) => `${path}: ${message}.`)].join(' ');
