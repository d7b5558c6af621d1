import type { Kept } from './kept.ts';

export interface KeptSummary {
  readonly title: string;
  readonly detail: string;
}

export interface KeptFrame {
  readonly lost: boolean;
  readonly lasting: boolean;
  readonly user: string | null;
}

const stayOpen = 'Keep this page open: without signal it cannot be loaded again.';

/** The counter in words; null while everything is written and there is signal. */
export const keptSummary = (items: readonly Kept[], { lost, lasting, user }: KeptFrame): KeptSummary | null => {
  const refused = items.filter((each) => each.refused !== null).length;
  const waiting = items.filter((each) => each.refused === null && each.by === user).length;
  const foreign = items.filter((each) => each.refused === null && each.by !== user);
  const parts = [
    refused === 0 ? '' : `${String(refused)} not taken: look at ${refused === 1 ? 'it' : 'them'}.`,
    lost ? stayOpen : '',
    items.length > 0 && !lasting ? 'This browser keeps nothing when the page is closed.' : '',
    foreign.length === 0 ? '' : `${String(foreign.length)} of ${foreign[0]?.by ?? ''} ${foreign.length === 1 ? 'waits' : 'wait'} for that sign-in.`,
  ].filter((part) => part !== '');
  if (waiting > 0) return { title: `${String(waiting)} kept here, sent when there is signal.`, detail: parts.join(' ') };
  if (lost) return { title: 'No signal: what you write is kept here.', detail: parts.join(' ') };
  return parts.length === 0 ? null : { title: '', detail: parts.join(' ') };
};
