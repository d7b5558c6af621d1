import { useState } from 'preact/hooks';
import type { GivenInspection, RecordListed } from '#contract';
import { lotFruit, moment, reachesOnlyItself } from '../../state/record-words.ts';
import { CopyLine } from '../copy-line.tsx';
import { Dialog } from '../forms/dialog.tsx';
import { failureWords } from '../forms/form-frame.ts';
import { Options } from '../forms/options.tsx';
import { useScreen } from '../screen.ts';

const spans = ['4', '24', '168', '744'] as const;
const spanWords = { '4': '4 hours', '24': 'a day', '168': 'a week', '744': '31 days' } as const;

interface GiveAccessProps {
  readonly lots: readonly RecordListed[];
  readonly zone: string;
  readonly onGiven: () => void;
  readonly onClose: () => void;
}

/** Which lots, for whom, for how long; then the code to say or to show. */
export const GiveAccess = ({ lots, zone, onGiven, onClose }: GiveAccessProps) => {
  const [given, setGiven] = useState<GivenInspection | null>(null);
  return (
    <Dialog title={given === null ? 'Let an inspector read' : `For ${given.name}`} onClose={onClose}>
      {given === null ? (
        <Form
          lots={lots}
          onGiven={(made) => {
            setGiven(made);
            onGiven();
          }}
        />
      ) : (
        <Given given={given} zone={zone} />
      )}
    </Dialog>
  );
};

const Form = ({ lots, onGiven }: { readonly lots: readonly RecordListed[]; readonly onGiven: (given: GivenInspection) => void }) => {
  const { call } = useScreen();
  const [name, setName] = useState('');
  const [span, setSpan] = useState<(typeof spans)[number]>('4');
  const [chosen, setChosen] = useState<readonly string[]>([]);
  const [problem, setProblem] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const every = chosen.length === lots.length;
  const give = async (): Promise<void> => {
    setBusy(true);
    const answer = await call('giveInspection', { body: { name: name.trim(), lots: [...chosen], hours: Number(span) } });
    setBusy(false);
    if (answer.ok) onGiven(answer.value);
    else setProblem(failureWords(answer.error));
  };
  return (
    <form
      class="act-form"
      onSubmit={(event) => {
        event.preventDefault();
        void give();
      }}
    >
      <label class="field">
        For whom
        <input type="text" required maxLength={60} value={name} onInput={({ currentTarget }) => setName(currentTarget.value)} />
      </label>
      <Options legend="For how long" name="span" options={spans} words={spanWords} chosen={span} onChoose={setSpan} />
      <fieldset class="lot-choice">
        <legend>Which lots</legend>
        <button type="button" class="quiet" onClick={() => setChosen(every ? [] : lots.map(({ lot }) => lot))}>
          {every ? 'None' : 'All'}
        </button>
        {lots.map((lot) => (
          <label key={lot.lot} class="check">
            <input type="checkbox" checked={chosen.includes(lot.lot)} onChange={({ currentTarget: { checked } }) => setChosen(checked ? [...chosen, lot.lot] : chosen.filter((each) => each !== lot.lot))} />
            <span>
              <b>{lot.lot}</b> {lotFruit(lot)}, {lot.place}
            </span>
          </label>
        ))}
      </fieldset>
      {problem !== null && (
        <p class="problem" role="alert">
          {problem}
        </p>
      )}
      <button type="submit" class="main-act large" disabled={busy || chosen.length === 0 || name.trim() === ''}>
        Make a code
      </button>
      <p class="dim">It opens the records of these lots and nothing else. What is looked at is written in the journal.</p>
    </form>
  );
};

const Given = ({ given, zone }: { readonly given: GivenInspection; readonly zone: string }) => {
  const { code, link, lots, madeAt, qr, until } = given;
  return (
    <div class="given">
      <p>
        Opens {lots.join(', ')} to {moment(until, Date.parse(madeAt), zone)}. This code is shown once.
      </p>
      <p class="given-code">{code}</p>
      {reachesOnlyItself(link) ? (
        <p class="caution">This address is known on this computer only, so a phone cannot follow it. Open Brineward by its address in your network, or write its web address among the facts of the producer, and make a new code.</p>
      ) : (
        <svg class="qr" viewBox={`0 0 ${String(qr.size)} ${String(qr.size)}`} role="img" aria-label="The link as a QR code" shape-rendering="crispEdges">
          <rect width={qr.size} height={qr.size} fill="#fff" />
          <path d={qr.path} fill="#000" />
        </svg>
      )}
      <CopyLine line={link} label="The link" />
    </div>
  );
};
