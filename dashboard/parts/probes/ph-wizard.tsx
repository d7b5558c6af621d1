import { useEffect, useState } from 'preact/hooks';
import { localField } from '../../format/time.ts';
import { typedNumber } from '../../format/units.ts';
import { foundTold, lotsOfBottles, withLastBottle } from '../../state/probes/bottles.ts';
import { bufferName, entriesOf, families, familyNames, judgeEntries, phOfBuffer, verdictWords, type BufferEntry, type Family } from '../../state/probes/calibration.ts';
import { settleWithin } from '../../state/probes/steady.ts';
import type { ProbeSeen } from '../../state/probes/probes.ts';
import { slugFrom } from '../../state/first-steps.ts';
import { failureWords } from '../forms/form-frame.ts';
import { Options } from '../forms/options.tsx';
import { Mark } from '../mark.tsx';
import { useScreen } from '../screen.ts';
import { BottleFold, useBottles } from './bottle-fields.tsx';
import { SteadyLine } from './steady-line.tsx';
import { useLiveValue } from './use-live-value.ts';

interface PhWizardProps {
  /** Null: a meter held in the hand. */
  readonly probe: ProbeSeen | null;
  readonly zone: string;
  readonly onDone: (words: string) => void;
}

const familyWords = Object.fromEntries(familyNames.map((name) => [name, families[name].words])) as Record<Family, string>;

/** An electrode in its buffers, one after the other: which bottles, how warm, what it gives when it has settled, and what that says. */
export const PhWizard = ({ probe, zone, onDone }: PhWizardProps) => {
  const { call, clock } = useScreen();
  const [name, setName] = useState(probe?.id ?? '');
  const [family, setFamily] = useState<Family>('technical');
  const [entries, setEntries] = useState<readonly BufferEntry[]>(entriesOf('technical'));
  const [temperature, setTemperature] = useState('');
  const [at, setAt] = useState(0);
  const [problem, setProblem] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const live = useLiveValue(probe?.id ?? null, probe?.channels.some(({ channel }) => channel === 'ph-mv') === true ? 'ph-mv' : null);
  const sendsMv = probe?.channels.some(({ channel }) => channel === 'ph-mv') === true;
  const temperatureC = typedNumber(temperature);
  const today = localField(clock.now.peek(), zone).slice(0, 10);
  const judged = judgeEntries(entries, temperatureC, today);
  const id = probe?.id ?? slugFrom(name);
  const { last, stores } = useBottles(id);
  useEffect(() => setEntries((now) => now.map((entry) => withLastBottle(entry, phOfBuffer(entry.set, 25), last))), [last, family]);
  const change = (index: number, over: Partial<BufferEntry>): void => setEntries(entries.map((entry, each) => (each === index ? { ...entry, ...over } : entry)));
  /** The live value goes where somebody types. Not by the line of the bottle: it would slide away from under the finger that opens it. */
  const takeUp = (index: number, target: EventTarget | null): void => {
    if (!(target instanceof Element && target.closest('.bottle > summary') !== null)) setAt(index);
  };
  const save = async (): Promise<void> => {
    if (judged.electrode === null || temperatureC === null || id === '') return;
    setBusy(true);
    const answer = await call('calibrate', { params: { probe: id }, body: { kind: 'ph', points: judged.points.map((point) => ({ ...point })), temperatureC, ...foundTold(entries.map(({ set, found }) => ({ ph: phOfBuffer(set, temperatureC), found }))), ...lotsOfBottles(entries.filter(({ mv }) => typedNumber(mv) !== null), stores) } });
    setBusy(false);
    if (answer.ok) onDone(`${id}: slope ${judged.electrode.slopePercent.toFixed(0)} %, ${verdictWords[judged.electrode.verdict].word}`);
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
          Name of the meter
          <input type="text" required maxLength={40} value={name} onInput={(event) => setName(event.currentTarget.value)} />
          <span class="hint">{id === '' ? 'As you write it beside what you measure with it.' : `Kept as ${id}: choose it where you measure.`}</span>
        </label>
      )}
      <Options
        legend="What stands on the bottles"
        name="family"
        options={familyNames}
        words={familyWords}
        chosen={family}
        onChoose={(chosen) => {
          setFamily(chosen);
          setEntries(entriesOf(chosen));
        }}
      />
      <label class="field">
        Buffers are at, °C
        <input type="text" inputMode="decimal" autocomplete="off" value={temperature} onInput={(event) => setTemperature(event.currentTarget.value)} />
        <span class="hint">A buffer is what it says at 25 °C only; it is worked out for this temperature.</span>
      </label>
      {entries.map((entry, index) => {
        const ph = phOfBuffer(entry.set, temperatureC);
        return (
          <fieldset key={entry.set} class="buffer" data-now={index === at} onFocusIn={(event) => takeUp(index, event.target)}>
            <legend>
              Buffer {bufferName(entry.set)}
              {index === 2 && <span class="dim"> if you have it</span>}
            </legend>
            {ph !== null && <p class="dim">is pH {ph.toFixed(2)} at this temperature</p>}
            {sendsMv && index === at && (
              <SteadyLine samples={live.map(({ at: t, value }) => ({ at: t, value: value * 1_000 }))} within={settleWithin.mv} intervalS={probe?.about.intervalS ?? null} show={(mv) => `${mv.toFixed(1).replace('-', '−')} mV`} onTake={(mv) => { change(index, { mv: mv.toFixed(1) }); setAt(Math.min(index + 1, entries.length - 1)); }} />
            )}
            <label class="field">
              Shows, mV
              <input type="text" inputMode="text" autocomplete="off" value={entry.mv} onInput={(event) => change(index, { mv: event.currentTarget.value })} />
            </label>
            <BottleFold bottle={entry} stores={stores} asFound onChange={(over) => change(index, over)} />
          </fieldset>
        );
      })}
      {!sendsMv && <p class="dim">Rinse, blot, dip, wait until the display holds still for 20 s, then type it. Rinse again before the next buffer.</p>}
      {judged.cautions.map((caution) => (
        <p key={caution} class="caution">
          {caution}
        </p>
      ))}
      {judged.electrode === null ? (
        <p class="dim">{judged.missing}</p>
      ) : (
        <div class="verdict" role="status">
          <p class="probe-state" data-state={verdictWords[judged.electrode.verdict].state}>
            <Mark state={verdictWords[judged.electrode.verdict].state} /> {verdictWords[judged.electrode.verdict].word}
          </p>
          <p>
            Slope <b>{judged.electrode.slopePercent.toFixed(1)} %</b> of what it can be ({judged.electrode.slopeMvPerPh.toFixed(1)} mV a pH), offset <b>{judged.electrode.offsetMv.toFixed(1).replace('-', '−')} mV</b>
            {judged.points.length > 2 && <>, the buffers within {judged.electrode.worstResidualPh.toFixed(2)} of a line</>}.
          </p>
          <p>{verdictWords[judged.electrode.verdict].hint}</p>
          <p class="dim">Good: 95 to 102 %. Replace: below 85 or above 105 %, or more than 30 mV off.</p>
        </div>
      )}
      {problem !== null && <p class="problem" role="alert">{problem}</p>}
      <button type="submit" class="main-act large" disabled={busy || judged.electrode === null || id === ''}>
        Write it down
      </button>
    </form>
  );
};
