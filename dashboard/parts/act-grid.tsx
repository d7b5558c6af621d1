import { useState } from 'preact/hooks';
import type { BatchDetail } from '#contract';
import { ago } from '../format/age.ts';
import type { UnitChoice } from '../format/units.ts';
import { storyWords } from '../state/story-words.ts';
import type { ActForm } from '../state/task-act.ts';
import './act-grid.css';

interface ActGridProps {
  readonly batch: BatchDetail | null;
  readonly now: number;
  readonly units: UnitChoice;
  readonly onAct: (form: ActForm) => void;
  /** Numbers stand on the keys where the keys of a key pad do the same. */
  readonly numbered?: boolean;
}

interface Key {
  readonly form: ActForm;
  readonly title: string;
  readonly hint: string;
}

export const mainActs: readonly Key[] = [
  { form: 'brine-changed', title: 'Brine changed', hint: 'brine or water' },
  { form: 'tasted', title: 'Tasted', hint: 'bitterness of ten' },
  { form: 'measured', title: 'Measured', hint: 'pH, salt, temperature' },
  { form: 'brine-topped-up', title: 'Topped up', hint: 'brine or water' },
  { form: 'skimmed', title: 'Skimmed', hint: 'film taken off' },
  { form: 'observed', title: 'Seen or smelled', hint: 'film, gas, soft …' },
];
const handled: Key = { form: 'handled', title: 'Handled', hint: 'stirred, gas, pressed, ice' };
const moreActs: readonly Key[] = [
  { form: 'salt-added', title: 'Salt added', hint: 'to the brine that is in' },
  { form: 'acid-added', title: 'Acid added', hint: 'vinegar, lactic, citric' },
  { form: 'moved', title: 'Moved', hint: 'all of it, to another drum' },
  { form: 'split', title: 'Split', hint: 'a part to jars or a drum' },
];

/** The acts, large enough for wet hands: six, and the seldom ones behind `more`. */
export const ActGrid = ({ batch, now, units, onAct, numbered = false }: ActGridProps) => {
  const [more, setMore] = useState(false);
  const last = (form: ActForm): string | null => {
    const entry = batch?.entries.filter(({ kind, standing }) => kind === form && standing).toSorted((a, b) => Date.parse(b.at) - Date.parse(a.at) || b.sequence - a.sequence)[0];
    if (entry === undefined) return null;
    const { detail } = storyWords(entry, units);
    return [ago(now - Date.parse(entry.at)), detail].filter((part) => part !== '').join(': ');
  };
  // What is on hold is not tasted; the shed computer refuses it too.
  const isBarred = (form: ActForm): boolean => form === 'tasted' && (batch?.holds.length ?? 0) > 0;
  const keys = (some: readonly Key[]) =>
    some.map(({ form, title, hint }, index) => (
      <button key={form} type="button" disabled={isBarred(form)} onClick={() => onAct(form)}>
        {numbered && some === mainActs && <kbd aria-hidden="true">{index + 1}</kbd>}
        <b>{title}</b>
        <span>{isBarred(form) ? 'not while on hold' : (last(form) ?? hint)}</span>
      </button>
    ));
  return (
    <>
      <div class="act-grid">
        {keys(mainActs)}
        {keys([handled])}
        <button type="button" class="more" aria-expanded={more} onClick={() => setMore(!more)}>
          <b>{more ? 'Fewer' : 'More:'}</b>
          <span>salt, acid, move, split</span>
        </button>
        {more && keys(moreActs)}
      </div>
    </>
  );
};
