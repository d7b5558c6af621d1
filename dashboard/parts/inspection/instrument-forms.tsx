import { useEffect, useState } from 'preact/hooks';
import type { Instrument, RouteBody } from '#contract';
import { typedNumber } from '../../format/units.ts';
import { failureWords } from '../forms/form-frame.ts';
import { MeterForm } from '../forms/meter-form.tsx';
import { bottleTold, lotsOfBottles, noBottle, withLastBottle } from '../../state/probes/bottles.ts';
import { BottleFields, useBottles } from '../probes/bottle-fields.tsx';
import { useScreen } from '../screen.ts';
import type { InDoubt } from './instrument-card.tsx';

interface Done {
  readonly onDone: () => void;
}

const useSave = (onDone: () => void) => {
  const [problem, setProblem] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const save = async (answering: Promise<{ readonly ok: true } | { readonly ok: false; readonly error: Parameters<typeof failureWords>[0] }>): Promise<void> => {
    setBusy(true);
    const answer = await answering;
    setBusy(false);
    if (answer.ok) onDone();
    else setProblem(failureWords(answer.error));
  };
  return { problem: problem === null ? null : <p class="problem" role="alert">{problem}</p>, busy, save };
};

/** A check of an instrument: buffers for a pH meter, melting ice for a thermometer. */
export const CheckForm = ({ instrument, onDone }: Done & { readonly instrument: Instrument }) => {
  const isPh = instrument.uses.some(({ measured }) => measured === 'ph');
  const isThermometer = instrument.uses.some(({ measured }) => measured === 'temperature');
  const [ice, setIce] = useState(!isPh);
  return (
    <>
      {isPh && isThermometer && (
        <label class="check">
          <input type="checkbox" checked={ice} onChange={(event) => setIce(event.currentTarget.checked)} />
          In melting ice
        </label>
      )}
      {ice ? <IceForm id={instrument.id} onDone={onDone} /> : <MeterForm meter={instrument.id} onDone={onDone} />}
      {!ice && <BufferForm id={instrument.id} onDone={onDone} />}
    </>
  );
};

const IceForm = ({ id, onDone }: Done & { readonly id: string }) => {
  const { call } = useScreen();
  const { problem, busy, save } = useSave(onDone);
  const [typed, setTyped] = useState('');
  const readingC = typedNumber(typed);
  return (
    <form
      class="act-form"
      onSubmit={(event) => {
        event.preventDefault();
        if (readingC !== null) void save(call('calibrate', { params: { probe: id }, body: { kind: 'ice-point', readingC, referenceC: 0 } }));
      }}
    >
      {problem}
      <p>A glass full of crushed ice with water between it, stirred, the stem clear of the walls, until the reading is steady.</p>
      <label class="field">
        Reads, °C
        <input type="text" inputMode="text" required value={typed} onInput={(event) => setTyped(event.currentTarget.value)} />
      </label>
      <button type="submit" class="main-act large" disabled={busy || readingC === null}>
        Write it down
      </button>
    </form>
  );
};

/** A buffer read as a sample, after the work of the day: tells whether the readings of the day still stand. */
const BufferForm = ({ id, onDone }: Done & { readonly id: string }) => {
  const { call } = useScreen();
  const { problem, busy, save } = useSave(onDone);
  const [ph, setPh] = useState('4.01');
  const [reads, setReads] = useState('');
  const [bottle, setBottle] = useState(noBottle);
  const { last, stores } = useBottles(id);
  useEffect(() => setBottle((now) => withLastBottle(now, 4.01, last)), [last]);
  const [bottlePh, bottleReads] = [typedNumber(ph), typedNumber(reads)];
  return (
    <form
      class="act-form"
      onSubmit={(event) => {
        event.preventDefault();
        if (bottlePh !== null && bottleReads !== null) void save(call('calibrate', { params: { probe: id }, body: { kind: 'buffer-check', ph: bottlePh, reads: bottleReads, ...bottleTold(bottle), ...lotsOfBottles([bottle], stores) } }));
      }}
    >
      <p><b>Or one buffer, read as a sample after the work</b></p>
      {problem}
      <fieldset class="pair">
        <legend>Check buffer</legend>
        <label class="field">
          pH on the bottle
          <input type="text" inputMode="decimal" value={ph} onInput={(event) => setPh(event.currentTarget.value)} />
        </label>
        <label class="field">
          the meter reads, pH
          <input type="text" inputMode="decimal" value={reads} onInput={(event) => setReads(event.currentTarget.value)} />
        </label>
      </fieldset>
      <BottleFields bottle={bottle} stores={stores} asFound={false} onChange={(over) => setBottle({ ...bottle, ...over })} />
      <button type="submit" class="main-act" disabled={busy || bottlePh === null || bottleReads === null}>
        Write down the check buffer
      </button>
    </form>
  );
};

export const DoubtForm = ({ doubt, onDone }: Done & { readonly doubt: InDoubt }) => {
  const { call } = useScreen();
  const { problem, busy, save } = useSave(onDone);
  const [decision, setDecision] = useState<RouteBody<'decideDoubt'>['decision'] | null>(null);
  const [reason, setReason] = useState('');
  return (
    <form
      class="act-form"
      onSubmit={(event) => {
        event.preventDefault();
        if (decision !== null) void save(call('decideDoubt', { params: { instrument: doubt.instrument }, body: { check: doubt.check, lot: doubt.lot, decision, reason: reason.trim() } }));
      }}
    >
      {problem}
      <p>
        {doubt.instrument} failed a check: {doubt.why}. Nobody can say when it began. What was measured for lot {doubt.lot} since the last good check is in doubt and counts as nothing until you decide.
      </p>
      <fieldset class="choice two">
        <legend>These results</legend>
        {(['stands', 'discarded'] as const).map((each) => (
          <label key={each}>
            <input type="radio" name="decision" checked={decision === each} onChange={() => setDecision(each)} />
            <span>{each === 'stands' ? 'stand' : 'are discarded'}</span>
          </label>
        ))}
      </fieldset>
      <label class="field">
        Because
        <input type="text" required maxLength={500} value={reason} onInput={(event) => setReason(event.currentTarget.value)} />
      </label>
      <button type="submit" class="main-act large" disabled={busy || decision === null || reason.trim() === ''}>
        Write down the decision
      </button>
    </form>
  );
};

/** A meter or thermometer that is held in the hand and sends nothing. */
export const AddInstrumentForm = ({ onDone }: Done) => {
  const { call } = useScreen();
  const { problem, busy, save } = useSave(onDone);
  const [name, setName] = useState('');
  const [serial, setSerial] = useState('');
  const [measures, setMeasures] = useState<'ph' | 'temperature'>('ph');
  const id = name.trim().toLowerCase().replaceAll(/[^a-z0-9]+/g, '-').replaceAll(/^-+|-+$/g, '').slice(0, 40);
  return (
    <form
      class="act-form"
      onSubmit={(event) => {
        event.preventDefault();
        void save(call('addInstrument', { body: { id, name: name.trim(), measures, ...(serial.trim() !== '' && { serial: serial.trim() }) } }));
      }}
    >
      {problem}
      <label class="field">
        What it is called
        <input type="text" required maxLength={60} value={name} onInput={(event) => setName(event.currentTarget.value)} />
        {id !== '' && <span class="hint">known as {id}: write this where you measure</span>}
      </label>
      <fieldset class="choice two">
        <legend>It measures</legend>
        {(['ph', 'temperature'] as const).map((each) => (
          <label key={each}>
            <input type="radio" name="measures" checked={measures === each} onChange={() => setMeasures(each)} />
            <span>{each === 'ph' ? 'pH' : 'temperature'}</span>
          </label>
        ))}
      </fieldset>
      <label class="field">
        Serial number
        <input type="text" maxLength={60} value={serial} onInput={(event) => setSerial(event.currentTarget.value)} />
      </label>
      <button type="submit" class="main-act large" disabled={busy || id === ''}>
        Add it
      </button>
    </form>
  );
};
