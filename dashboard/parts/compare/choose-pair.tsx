import { useState } from 'preact/hooks';
import type { LotChoice } from '../../state/compare/choices.ts';
import { useScreen } from '../screen.ts';

interface ChoosePairProps {
  readonly choices: readonly LotChoice[];
  readonly suggested: { readonly lot: string; readonly other: string };
  readonly bitterness: number;
}

/** Two lots to be laid side by side. */
export const ChoosePair = ({ choices, suggested, bitterness }: ChoosePairProps) => {
  const { go } = useScreen();
  const [lot, setLot] = useState(suggested.lot);
  const [other, setOther] = useState(suggested.other);
  const same = lot === other;
  return (
    <form
      class="choose-pair"
      onSubmit={(event) => {
        event.preventDefault();
        if (!same) go({ view: 'compare', pair: { lot, other }, bitterness });
      }}
    >
      <LotField label="Why was this one slower" value={lot} choices={choices} onChoose={setLot} />
      <LotField label="than this one?" value={other} choices={choices} onChoose={setOther} />
      <button type="submit" class="main-act" disabled={same}>
        Lay them side by side
      </button>
      {same && (
        <p class="fault" role="status">
          Choose two different lots.
        </p>
      )}
    </form>
  );
};

const LotField = ({ label, value, choices, onChoose }: { readonly label: string; readonly value: string; readonly choices: readonly LotChoice[]; readonly onChoose: (lot: string) => void }) => (
  <label class="field">
    {label}
    <select value={value} onChange={(event) => onChoose(event.currentTarget.value)}>
      {choices.map(({ lot, words }) => (
        <option key={lot} value={lot}>
          {words}
        </option>
      ))}
    </select>
  </label>
);
