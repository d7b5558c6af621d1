import { useEffect, useState } from 'preact/hooks';
import { acids, cureStyles, dayMs, cuts, maturities, type Acid, type CureStyle, type Cut, type Drum, type Maturity, type NewBatch, type Pick, type PickShare } from '#contract';
import type { Failure } from '../../client/call.ts';
import { fromLocalField, localField } from '../../format/time.ts';
import { massScale, typedNumber, volumeScale } from '../../format/units.ts';
import { openPicks } from '../../state/pick-words.ts';
import { caution, percent, strengthOf } from '../../state/strength.ts';
import { useScreen } from '../screen.ts';
import { useLots } from './lots-used.tsx';
import { Options } from './options.tsx';
import { failureWords } from './form-frame.ts';
import { Problem } from '../problem.tsx';
import { PickShares } from '../picks/pick-shares.tsx';
import { Stepper } from './stepper.tsx';
import './forms.css';

const styleWords = { 'changed-brine': 'changed brine: leached, brine renewed', 'kept-brine': 'kept brine: fermented in its first brine', 'water-then-brine': 'water first, then brine' } as const satisfies Record<CureStyle, string>;

/** Settles a little above 6 % with this much fruit; a place to begin, not advice. */
const firstGPerL = 110;

interface BatchFormProps {
  readonly drum: Drum;
  readonly zone: string;
  /** Picks of which there is fruit; asked for where they are not given. */
  readonly picks?: readonly Pick[];
  /** The pick it is started from. */
  readonly from?: Pick;
  readonly onOpen: (batch: NewBatch) => Promise<Failure | null>;
}

/** What goes into a drum, from one pick, several or none that was written. What the salt comes to, poured and settled, stands beside what was weighed. */
export const BatchForm = ({ drum, zone, picks: given, from, onOpen }: BatchFormProps) => {
  const { call, settings, clock } = useScreen();
  const [found, setFound] = useState<readonly Pick[]>([]);
  useEffect(() => {
    if (given === undefined) void call('picks').then((answer) => setFound(answer.ok ? openPicks(answer.value.picks) : []));
  }, [call, given]);
  const picks = given ?? found;
  const units = settings.units.value;
  const [cut, setCut] = useState<Cut>('slit');
  const [style, setStyle] = useState<CureStyle>('changed-brine');
  const [maturity, setMaturity] = useState<Maturity>(from?.maturity?.stage ?? 'green');
  const [variety, setVariety] = useState(from?.variety ?? '');
  const [trees, setTrees] = useState(from === undefined ? '' : [from.block ?? '', ...from.trees].filter((part) => part !== '').join(', '));
  const mostKg = Math.round(drum.volumeL * 0.55);
  const [shares, setShares] = useState<readonly PickShare[]>(from === undefined ? [] : [{ pick: from.pick, kg: Number(Math.min(from.unaccountedKg ?? mostKg, mostKg).toFixed(1)) }]);
  const [soakDays, setSoakDays] = useState('');
  const [soakChanges, setSoakChanges] = useState('');
  const [picked, setPicked] = useState(localField(clock.now.peek(), zone).slice(0, 10));
  const [started, setStarted] = useState(localField(clock.now.peek(), zone));
  const [fruitKg, setFruitKg] = useState(shares[0]?.kg ?? mostKg);
  const [brineL, setBrineL] = useState(Math.round(drum.volumeL * 0.42));
  const [saltG, setSaltG] = useState(Math.round(drum.volumeL * 0.42) * firstGPerL);
  const [acid, setAcid] = useState<Acid | 'none'>('none');
  const [acidMl, setAcidMl] = useState('');
  const [acidPercent, setAcidPercent] = useState('5');
  const [problem, setProblem] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);

  const water = style === 'water-then-brine';
  const saltGPerL = brineL > 0 ? saltG / brineL : 0;
  const strength = strengthOf(saltGPerL, brineL, fruitKg);
  const warning = caution(saltGPerL, strength);
  const startedAt = fromLocalField(started, zone);
  const used = useLots(['salt', ...(acid === 'none' ? [] : ([acid === 'acetic' ? 'vinegar' : 'acid'] as const))], undefined);
  const ml = typedNumber(acidMl);
  const strengthPercent = typedNumber(acidPercent);

  const share = (next: readonly PickShare[]): void => {
    setShares(next);
    if (next.length > 0) setFruitKg(next.reduce((sum, { kg }) => sum + kg, 0));
  };
  const open = async (): Promise<void> => {
    if (startedAt === null) {
      setProblem('Say when the fruit went in.');
      return;
    }
    if (acid !== 'none' && (ml === null || strengthPercent === null)) {
      setProblem('Say how much acid of which strength, or choose none.');
      return;
    }
    setBusy(true);
    const failure = await onOpen({
      drum: drum.id, ...(shares.length === 0 ? { pickedAt: picked } : { picks: [...shares] }), startedAt: new Date(startedAt).toISOString(), cut, style, maturity, fruitKg, brineL, saltGPerL: Number(saltGPerL.toFixed(2)),
      ...(variety.trim() !== '' && { variety: variety.trim() }), ...(trees.trim() !== '' && { trees: trees.trim() }),
      ...(typedNumber(soakDays) !== null && { soak: { startedAt: new Date(startedAt - (typedNumber(soakDays) ?? 0) * dayMs).toISOString(), changes: Math.round(typedNumber(soakChanges) ?? 0) } }),
      ...used.told,
      ...(acid !== 'none' && ml !== null && strengthPercent !== null && { acid: { acid, ml, strengthPercent } }),
    });
    setBusy(false);
    setProblem(failure === null ? null : failureWords(failure));
  };

  return (
    <form
      class="act-form batch-form"
      aria-label="Open a batch"
      onSubmit={(event) => {
        event.preventDefault();
        void open();
      }}
    >
      <PickShares picks={picks} zone={zone} shares={shares} onChange={share} />
      <Options legend="Cut" name="cut" options={cuts} chosen={cut} onChoose={setCut} />
      <Options
        legend="Cure" name="style" options={cureStyles} words={styleWords} chosen={style}
        onChoose={(next) => {
          setStyle(next);
          if (next === 'water-then-brine') setSaltG(0);
          else if (saltG === 0) setSaltG(brineL * firstGPerL);
        }}
      />
      <Options legend="Colour of the fruit" name="maturity" options={maturities} chosen={maturity} onChoose={setMaturity} />
      <div class="pair">
        <label class="field">
          Variety, if known
          <input type="text" maxLength={60} value={variety} onInput={(event) => setVariety(event.currentTarget.value)} />
        </label>
        <label class="field">
          Trees
          <input type="text" maxLength={200} value={trees} onInput={(event) => setTrees(event.currentTarget.value)} />
        </label>
        {shares.length === 0 && (
          <label class="field">
            Picked on
            <input type="date" required value={picked} onInput={(event) => setPicked(event.currentTarget.value)} />
          </label>
        )}
        <label class="field">
          Into the drum at
          <input type="datetime-local" required value={started} onInput={(event) => setStarted(event.currentTarget.value)} />
        </label>
      </div>
      <Stepper label="fruit, with stones" value={fruitKg * 1_000} scale={massScale(units)} step={1} decimals={1} least={0.1} onChange={(grams) => setFruitKg(grams / 1_000)} />
      <Stepper label={water && saltG === 0 ? 'water' : 'brine'} value={brineL} scale={volumeScale(units)} step={1} decimals={1} least={0.1} onChange={setBrineL} />
      <Stepper label="salt, weighed" value={saltG} scale={massScale(units)} step={0.1} decimals={2} onChange={setSaltG} />
      <p class="worked-out">
        <b>{strength === null ? 'over saturation' : percent(strength.pouredPercent)}</b> as poured
        {strength?.settledPercent != null && saltG > 0 && (
          <>
            , settles at about <b>{percent(strength.settledPercent)}</b> (assumes fruit with 17 % stone and flesh of 65 % water; measure after a few days)
          </>
        )}
      </p>
      {warning !== null && <p class="caution">{warning}</p>}
      <details>
        <summary>Soaked in water before</summary>
        <div class="pair">
          <label class="field">
            Days
            <input type="text" inputMode="decimal" value={soakDays} onInput={(event) => setSoakDays(event.currentTarget.value)} />
          </label>
          <label class="field">
            Times its water was changed
            <input type="text" inputMode="numeric" value={soakChanges} onInput={(event) => setSoakChanges(event.currentTarget.value)} />
          </label>
        </div>
      </details>
      <details>
        <summary>Acid mixed in</summary>
        <div class="pair">
          <label class="field">
            Acid
            <select value={acid} onChange={(event) => setAcid(event.currentTarget.value as Acid | 'none')}>
              {['none', ...acids].map((name) => (
                <option key={name} value={name}>
                  {name}
                </option>
              ))}
            </select>
          </label>
          <label class="field">
            Millilitres
            <input type="text" inputMode="decimal" value={acidMl} onInput={(event) => setAcidMl(event.currentTarget.value)} />
          </label>
          <label class="field">
            Strength, % on the bottle
            <input type="text" inputMode="decimal" value={acidPercent} onInput={(event) => setAcidPercent(event.currentTarget.value)} />
          </label>
        </div>
      </details>
      {used.field}
      {problem !== null && <Problem words={problem} />}
      <button type="submit" class="main-act large" disabled={busy || strength === null}>
        Open the batch
      </button>
    </form>
  );
};
