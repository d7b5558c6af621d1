import { useId, useState } from 'preact/hooks';
import { massScale, typedNumber } from '../../format/units.ts';
import type { Failure } from '../../client/call.ts';
import type { TreeLoadTyped } from '../../state/season/season.ts';
import { useScreen } from '../screen.ts';

const judged = ['weighed', 'none', 'little', 'fair', 'heavy'] as const;
const isLoad = (index: number): index is 0 | 1 | 2 | 3 => index >= 0 && index <= 3;

/** What a tree bore in a year: weighed, or judged from the ground. */
export const TreeForm = ({ trees, year, onWrite }: { readonly trees: readonly string[]; readonly year: number; readonly onWrite: (load: TreeLoadTyped) => Promise<Failure | null> }) => {
  const { settings } = useScreen();
  const id = useId();
  const [tree, setTree] = useState('');
  const [inYear, setYear] = useState(String(year));
  const [how, setHow] = useState<(typeof judged)[number]>('weighed');
  const [typed, setTyped] = useState('');
  const [said, setSaid] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const scale = massScale(settings.units.value);
  const amount = typedNumber(typed);
  const load = judged.indexOf(how) - 1;
  const fits = tree.trim() !== '' && /^20\d\d$/.test(inYear) && (how === 'weighed' ? amount !== null && amount >= 0 : isLoad(load));
  const write = async (): Promise<void> => {
    setBusy(true);
    const base = { tree: tree.trim(), year: Number(inYear) };
    const failure = await onWrite(how === 'weighed' ? { ...base, kg: Math.round(((amount ?? 0) * scale.metric) / 10) / 100 } : { ...base, load: isLoad(load) ? load : 0 });
    setBusy(false);
    setSaid(failure === null ? `Written: ${base.tree}, ${inYear}.` : `${failure.title}. ${failure.detail}`);
    if (failure === null) setTyped('');
  };
  return (
    <form
      class="tree-form"
      onSubmit={(event) => {
        event.preventDefault();
        void write();
      }}
    >
      <label class="field">
        <span>Tree</span>
        <input list={id} value={tree} maxLength={60} autocomplete="off" onInput={(event) => setTree(event.currentTarget.value)} />
        <datalist id={id}>
          {trees.map((name) => (
            <option key={name} value={name}>
              {name}
            </option>
          ))}
        </datalist>
      </label>
      <label class="field">
        <span>Year</span>
        <input inputMode="numeric" value={inYear} maxLength={4} autocomplete="off" onInput={(event) => setYear(event.currentTarget.value)} />
      </label>
      <label class="field">
        <span>How much</span>
        <select value={how} onChange={(event) => setHow(judged.find((each) => each === event.currentTarget.value) ?? 'weighed')}>
          {judged.map((each) => (
            <option key={each} value={each}>
              {each === 'weighed' ? 'weighed' : `by eye: ${each}`}
            </option>
          ))}
        </select>
      </label>
      {how === 'weighed' && (
        <label class="field">
          <span>{scale.unit}</span>
          <input inputMode="decimal" value={typed} autocomplete="off" onInput={(event) => setTyped(event.currentTarget.value)} />
        </label>
      )}
      <button type="submit" class="main-act" disabled={!fits || busy}>
        Write it down
      </button>
      <p role="status" class="dim">
        {said ?? ''}
      </p>
    </form>
  );
};
