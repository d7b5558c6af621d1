import { useState } from 'preact/hooks';
import { inWords, showTemperature, typedNumber } from '../../format/units.ts';
import { iceVerdict } from '../../state/probes/calibration.ts';
import type { ProbeSeen } from '../../state/probes/probes.ts';
import { settleWithin } from '../../state/probes/steady.ts';
import { slugFrom } from '../../state/first-steps.ts';
import { failureWords } from '../forms/form-frame.ts';
import { Mark } from '../mark.tsx';
import { useScreen } from '../screen.ts';
import { SteadyLine } from './steady-line.tsx';
import { useLiveValue } from './use-live-value.ts';

/** A thermometer in melting ice: the one temperature that needs no other thermometer. */
export const IceWizard = ({ probe, onDone }: { readonly probe: ProbeSeen | null; readonly onDone: (words: string) => void }) => {
  const { call, settings } = useScreen();
  const units = settings.units.value;
  const [name, setName] = useState(probe?.id ?? '');
  const [typed, setTyped] = useState('');
  const [problem, setProblem] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const channel = probe?.channels.find((each) => each.channel === 'temperature' || each.channel === 'air-temperature')?.channel ?? null;
  const live = useLiveValue(probe?.id ?? null, channel);
  const number = typedNumber(typed);
  const readingC = number === null ? null : units.temperature === 'F' ? ((number - 32) * 5) / 9 : number;
  const verdict = readingC === null ? null : iceVerdict(readingC);
  const id = probe?.id ?? slugFrom(name);
  const fits = readingC !== null && Math.abs(readingC) <= 20;
  const save = async (): Promise<void> => {
    if (!fits || id === '') return;
    setBusy(true);
    const answer = await call('calibrate', { params: { probe: id }, body: { kind: 'ice-point', readingC: Number(readingC.toFixed(4)), referenceC: 0 } });
    setBusy(false);
    if (answer.ok) onDone(`${id}: ${verdict?.word ?? ''} in ice`);
    else setProblem(failureWords(answer.error));
  };
  return (
    <form
      class="act-form wizard"
      onSubmit={(event) => {
        event.preventDefault();
        void save();
      }}
    >
      {probe === null && (
        <label class="field">
          Name of the thermometer
          <input type="text" required maxLength={40} value={name} onInput={(event) => setName(event.currentTarget.value)} />
        </label>
      )}
      <ol class="steps-list">
        <li>Crush clean ice, fill a cup to the brim, add cold water to just below the top of the ice.</li>
        <li>Stir. Wait three minutes; ice must still float all through the cup.</li>
        <li>Hold the tip in the middle, not at the wall, stirring all the while, until it holds still.</li>
      </ol>
      {probe !== null && <SteadyLine samples={live} within={settleWithin.temperature} intervalS={probe.about.intervalS} show={(value) => inWords(showTemperature(value, units, 2))} onTake={(value) => setTyped(showTemperature(value, units, 2).text.replace('−', '-'))} />}
      <label class="field">
        Reads, {units.temperature === 'F' ? '°F' : '°C'}
        <input type="text" inputMode="text" autocomplete="off" value={typed} onInput={(event) => setTyped(event.currentTarget.value)} />
      </label>
      {verdict !== null && (
        <div class="verdict" role="status">
          <p class="probe-state" data-state={verdict.state}>
            <Mark state={verdict.state} /> {verdict.word}
          </p>
          <p>{verdict.hint}</p>
        </div>
      )}
      {problem !== null && <p class="problem" role="alert">{problem}</p>}
      <button type="submit" class="main-act large" disabled={busy || !fits || id === ''}>
        Write it down
      </button>
      <p class="dim">It is written as found: readings are not bent by it. A probe that fails is replaced.</p>
    </form>
  );
};
