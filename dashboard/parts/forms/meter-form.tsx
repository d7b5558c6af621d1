import { useEffect, useState } from 'preact/hooks';
import { typedNumber } from '../../format/units.ts';
import { bottleTold, foundTold, lotsOfBottles, noBottle, withLastBottle, type BottleText } from '../../state/probes/bottles.ts';
import { BottleFold, useBottles } from '../probes/bottle-fields.tsx';
import { Problem } from '../problem.tsx';
import { useScreen } from '../screen.ts';
import { failureWords } from './form-frame.ts';

const buffers = [
  { ph: '7.01', words: 'Neutral buffer' },
  { ph: '4.01', words: 'Acid buffer' },
  { ph: '4.00', words: 'Second acid buffer, freshly opened' },
] as const;

const slugOf = (name: string): string => name.trim().toLowerCase().replaceAll(/[^a-z0-9]+/g, '-').replaceAll(/^-+|-+$/g, '').slice(0, 40);

/** A pH meter in its buffers, as the packed-jar rule asks on the day of use: what each buffer is, and what the meter shows in millivolts. */
export const MeterForm = ({ meter, onDone }: { readonly meter: string; readonly onDone: (words: string) => void }) => {
  const { call } = useScreen();
  const [name, setName] = useState(meter);
  const [points, setPoints] = useState<readonly (BottleText & { readonly ph: string; readonly mv: string })[]>(buffers.map(({ ph }) => ({ ph, mv: '', ...noBottle })));
  const [temperature, setTemperature] = useState('20');
  const [problem, setProblem] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const typed = points.map((point) => ({ ...point, ph: typedNumber(point.ph), mv: typedNumber(point.mv) }));
  const temperatureC = typedNumber(temperature);
  const probe = slugOf(name);
  const { last, stores } = useBottles(probe);
  // 4.00 and 4.01 stand here as two bottles, so only the very pH on the label is the bottle of last time.
  useEffect(() => setPoints((now) => now.map((point) => withLastBottle(point, typedNumber(point.ph), last, 0.001))), [last]);
  const full = typed.flatMap(({ ph, mv, ...bottle }) => (ph === null || mv === null ? [] : [{ ph, mv, ...bottleTold(bottle) }]));
  const ready = full.length >= 2 && temperatureC !== null && probe !== '' && !busy;
  const change = (index: number, over: object): void => setPoints(points.map((point, at) => (at === index ? { ...point, ...over } : point)));
  const save = async (): Promise<void> => {
    if (!ready) return;
    setBusy(true);
    const answer = await call('calibrate', { params: { probe }, body: { kind: 'ph', points: full, temperatureC, ...foundTold(typed), ...lotsOfBottles(points.filter(({ mv }) => typedNumber(mv) !== null), stores) } });
    setBusy(false);
    if (answer.ok) onDone(`${probe} checked in ${String(full.length)} buffers`);
    else setProblem(failureWords(answer.error));
  };
  return (
    <form
      class="act-form"
      onSubmit={(event) => {
        event.preventDefault();
        void save();
      }}
    >
      {problem !== null && <Problem words={problem} />}
      <label class="field">
        Meter
        <input type="text" required maxLength={40} value={name} onInput={(event) => setName(event.currentTarget.value)} />
      </label>
      {buffers.map(({ words }, index) => (
        <fieldset key={words} class="pair">
          <legend>{words}</legend>
          <label class="field">
            pH on the bottle
            <input type="text" inputMode="decimal" value={points[index]?.ph ?? ''} onInput={(event) => change(index, { ph: event.currentTarget.value })} />
          </label>
          <label class="field">
            shows, mV
            <input type="text" inputMode="text" value={points[index]?.mv ?? ''} onInput={(event) => change(index, { mv: event.currentTarget.value })} />
          </label>
          <BottleFold bottle={points[index] ?? noBottle} stores={stores} asFound onChange={(over) => change(index, over)} />
        </fieldset>
      ))}
      <label class="field">
        Buffers at, °C
        <input type="text" inputMode="decimal" value={temperature} onInput={(event) => setTemperature(event.currentTarget.value)} />
      </label>
      <button type="submit" class="main-act large" disabled={!ready}>
        Write it down
      </button>
      <p class="dim">Without the second acid buffer the readings of the day do not count for release: a spoiled 4.01 makes every jar look more acid than it is.</p>
    </form>
  );
};
