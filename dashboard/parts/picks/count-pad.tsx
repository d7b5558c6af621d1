import { useState } from 'preact/hooks';
import { maturityClasses, maturityIndex, maturitySpread } from '#contract';
import { FruitMark } from '../fruit-mark.tsx';

/** So many fruits make a count, drawn from about a kilogram. */
const wanted = 100;

/** Eight large keys, one press a fruit; the last press is taken back with one key, however often. */
export const CountPad = ({ busy, onSave }: { readonly busy: boolean; readonly onSave: (counts: readonly number[]) => void }) => {
  const [pressed, setPressed] = useState<readonly number[]>([]);
  const counts = maturityClasses.map((_, index) => pressed.filter((each) => each === index).length);
  const index = maturityIndex(counts);
  const spread = maturitySpread([{ counts, kg: 1 }]);
  const last = pressed.at(-1);
  return (
    <div class="count-pad">
      <p class="count-total" role="status">
        <b>{pressed.length}</b> of {wanted} {index.ok ? `· index ${index.value.index.toFixed(1)}, ${index.value.stage}` : '· cut the black ones'}
      </p>
      <ol start={0}>
        {maturityClasses.map((look, each) => (
          <li key={look}>
            <button type="button" onClick={() => setPressed([...pressed, each])}>
              <FruitMark index={each} />
              <b>{counts[each]}</b>
              <span>{look}</span>
            </button>
          </li>
        ))}
      </ol>
      {pressed.length >= 20 && spread?.wide === true && <p class="caution">The fruit is of very different ripeness: one drum will hold two cures. Sort by colour, or give the ripe fruit a drum of its own.</p>}
      <div class="count-foot">
        <button type="button" class="quiet" disabled={last === undefined} onClick={() => setPressed(pressed.slice(0, -1))}>
          {last === undefined ? 'Take back' : `Take back: ${maturityClasses[last] ?? ''}`}
        </button>
        <button type="button" class="main-act" disabled={busy || pressed.length === 0} onClick={() => onSave(counts)}>
          {pressed.length < wanted ? `Done with ${String(pressed.length)}` : 'Done'}
        </button>
      </div>
    </div>
  );
};
