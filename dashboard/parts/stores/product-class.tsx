import type { Producer } from '#contract';

export type ProductClass = NonNullable<Producer['productClass']>;

const classes = ['fermented', 'acidified', 'refrigerated', 'heat-treated'] as const satisfies readonly ProductClass['word'][];

/** What the product counts as before the law: a decision with a name and a paper, which no program takes. */
export const ProductClassFields = ({ decided, onChange }: { readonly decided: ProductClass | null; readonly onChange: (decided: ProductClass | null) => void }) => (
  <>
    <label class="field">
      The product counts as
      <select value={decided?.word ?? ''} onChange={(event) => {
        const word = classes.find((each) => each === event.currentTarget.value);
        onChange(word === undefined ? null : { by: null, on: null, ...decided, word });
      }}>
        <option value="">not decided</option>
        {classes.map((word) => (
          <option key={word} value={word}>
            {word}
          </option>
        ))}
      </select>
      <span class="hint">Your authority says what it is. Above pH 4.6, or with acid added, other rules may hold: ask first.</span>
    </label>
    {decided !== null && (
      <div class="pair">
        <label class="field">
          Decided by
          <input type="text" maxLength={120} value={decided.by ?? ''} onInput={(event) => onChange({ ...decided, by: event.currentTarget.value })} />
        </label>
        <label class="field">
          On (day, letter or paper)
          <input type="text" maxLength={120} value={decided.on ?? ''} onInput={(event) => onChange({ ...decided, on: event.currentTarget.value })} />
        </label>
      </div>
    )}
  </>
);
