import { useState } from 'preact/hooks';
import { cullCauses, maturities, type Maturity, type Pick, type PickAmendment } from '#contract';
import { massScale, typedNumber } from '../../format/units.ts';
import { Options } from '../forms/options.tsx';
import { Stepper } from '../forms/stepper.tsx';
import { useScreen } from '../screen.ts';

const ways = ['weighed', 'in buckets'] as const;
/** A common harvest bucket of olives (common practice, no source). */
const usualBucketKg = 9;
const each = { unit: 'buckets', metric: 1 };

interface FactsFormProps {
  readonly pick: Pick;
  readonly busy: boolean;
  readonly onSave: (told: PickAmendment) => void;
}

/** What was picked, where, and how it looks. What is left as it is is not told again. */
export const FactsForm = ({ pick, busy, onSave }: FactsFormProps) => {
  const { settings } = useScreen();
  const scale = massScale(settings.units.value);
  const [way, setWay] = useState<(typeof ways)[number]>(pick.buckets !== null ? 'in buckets' : 'weighed');
  const [massKg, setMassKg] = useState(pick.pickedKg ?? 30);
  const [buckets, setBuckets] = useState(pick.buckets ?? 4);
  const [bucketKg, setBucketKg] = useState(pick.bucketKg ?? usualBucketKg);
  const [trees, setTrees] = useState(pick.trees.join(', '));
  const [block, setBlock] = useState(pick.block ?? '');
  const [variety, setVariety] = useState(pick.variety ?? '');
  const [maturity, setMaturity] = useState<Maturity | null>(pick.maturity?.stage ?? null);
  const [damage, setDamage] = useState<Readonly<Record<string, string>>>(Object.fromEntries(Object.entries(pick.damage).map(([cause, share]) => [cause, String(Math.round(share * 100))])));

  const counted = pick.maturity?.index != null;
  const marks = trees.split(',').map((mark) => mark.trim()).filter((mark) => mark !== '');
  const told = (): PickAmendment => ({
    ...(way === 'weighed' ? { massKg: rounded(massKg) } : { buckets, bucketKg: rounded(bucketKg) }),
    ...(marks.length > 0 && { trees: marks }),
    ...(block.trim() !== '' && { block: block.trim() }),
    ...(variety.trim() !== '' && { variety: variety.trim() }),
    ...(maturity !== null && !counted && { maturity }),
    ...(Object.keys(damage).length > 0 && { damage: Object.fromEntries(Object.entries(damage).map(([cause, percent]) => [cause, (typedNumber(percent) ?? 0) / 100])) }),
  });
  return (
    <form
      class="act-form"
      onSubmit={(event) => {
        event.preventDefault();
        onSave(told());
      }}
    >
      <Options legend="How much" name="way" options={ways} chosen={way} onChoose={setWay} />
      {way === 'weighed' ? (
        <Stepper label="fruit, with stones" value={massKg * 1_000} scale={scale} step={1} decimals={1} least={0.1} onChange={(grams) => setMassKg(grams / 1_000)} />
      ) : (
        <>
          <Stepper label="buckets" value={buckets} scale={each} step={1} decimals={1} least={0.5} onChange={setBuckets} />
          <Stepper label="in one bucket" value={bucketKg * 1_000} scale={scale} step={0.5} decimals={1} least={0.5} onChange={(grams) => setBucketKg(grams / 1_000)} />
        </>
      )}
      {!counted && <Options legend="Colour, by eye" name="colour" options={maturities} chosen={maturity ?? ('none' as Maturity)} onChoose={setMaturity} />}
      <label class="field">
        Trees
        <input type="text" maxLength={200} value={trees} onInput={(event) => setTrees(event.currentTarget.value)} />
        <span class="hint">their marks, with commas between</span>
      </label>
      <div class="pair">
        <label class="field">
          Block, if it has a name
          <input type="text" maxLength={60} value={block} onInput={(event) => setBlock(event.currentTarget.value)} />
        </label>
        <label class="field">
          Variety, if known
          <input type="text" maxLength={60} value={variety} onInput={(event) => setVariety(event.currentTarget.value)} />
        </label>
      </div>
      <details>
        <summary>Damage, in a hundred fruits</summary>
        <div class="pair">
          {cullCauses.slice(0, 6).map((cause) => (
            <label key={cause} class="field">
              {cause}
              <input type="text" inputMode="decimal" value={damage[cause] ?? ''} onInput={(event) => setDamage({ ...damage, [cause]: event.currentTarget.value })} />
            </label>
          ))}
        </div>
      </details>
      <button type="submit" class="main-act large" disabled={busy}>
        {busy ? 'Sending …' : 'Done'}
      </button>
    </form>
  );
};

const rounded = (amount: number): number => Number(amount.toFixed(2));
