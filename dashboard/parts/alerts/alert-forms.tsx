import { useState } from 'preact/hooks';
import type { ComponentChildren } from 'preact';
import type { Alert } from '#contract';
import type { Failure } from '../../client/call.ts';
import { Dialog } from '../forms/dialog.tsx';
import { Options } from '../forms/options.tsx';

interface FormProps {
  readonly alert: Alert;
  readonly title: string;
  readonly submit: string;
  readonly onSubmit: () => Promise<Failure | null>;
  readonly onClose: () => void;
  readonly children: ComponentChildren;
}

const AlertForm = ({ alert, title, submit, onSubmit, onClose, children }: FormProps) => {
  const [busy, setBusy] = useState(false);
  const [problem, setProblem] = useState<string | null>(null);
  return (
    <Dialog title={title} onClose={onClose}>
      <form
        class="act-form"
        onSubmit={(event) => {
          event.preventDefault();
          setBusy(true);
          void onSubmit().then((failure) => {
            setBusy(false);
            if (failure === null) onClose();
            else setProblem(`${failure.title}. ${failure.detail}`);
          });
        }}
      >
        <p>{alert.text}</p>
        {children}
        {problem !== null && (
          <p class="problem" role="alert">
            {problem}
          </p>
        )}
        <button type="submit" class="main-act large" disabled={busy}>
          {submit}
        </button>
      </form>
    </Dialog>
  );
};

const Text = ({ label, value, onValue, required = true, most }: { readonly label: string; readonly value: string; readonly onValue: (value: string) => void; readonly required?: boolean; readonly most: number }) => (
  <label class="field">
    {label}
    <input type="text" required={required} maxLength={most} value={value} onInput={(event) => onValue(event.currentTarget.value)} />
  </label>
);

const spans = ['60', '240', '720', '2880'] as const;
const spanWords = { '60': '1 hour', '240': '4 hours', '720': '12 hours', '2880': '2 days' } as const;

/** Put aside for a stated time and reason: it comes back by itself. */
export const ShelveForm = ({ alert, onShelve, onClose }: { readonly alert: Alert; readonly onShelve: (minutes: number, reason: string) => Promise<Failure | null>; readonly onClose: () => void }) => {
  const [minutes, setMinutes] = useState<(typeof spans)[number]>('60');
  const [reason, setReason] = useState('');
  return (
    <AlertForm alert={alert} title="Put aside" submit={`Put aside for ${spanWords[minutes]}`} onSubmit={() => onShelve(Number(minutes), reason)} onClose={onClose}>
      <Options name="shelve-time" legend="For how long" options={spans} words={spanWords} chosen={minutes} onChoose={setMinutes} />
      <Text label="Why" most={300} value={reason} onValue={setReason} />
      <p class="dim">It goes on being judged, and comes back by itself when the time is over. It stands in the journal with your name.</p>
    </AlertForm>
  );
};

const dispositions = ['', 'kept', 'on hold', 'thrown away'] as const;
const dispositionWords = { '': 'not about fruit', kept: 'fruit kept', 'on hold': 'fruit on hold', 'thrown away': 'fruit thrown away' } as const;

/** What was done about it, and what became of the fruit: it stands in the record of the lot. */
export const ActionForm = ({ alert, onAction, onClose }: { readonly alert: Alert; readonly onAction: (text: string, disposition: string) => Promise<Failure | null>; readonly onClose: () => void }) => {
  const [text, setText] = useState('');
  const [disposition, setDisposition] = useState<(typeof dispositions)[number]>('');
  return (
    <AlertForm alert={alert} title="What was done" submit="Write it down" onSubmit={() => onAction(text, disposition)} onClose={onClose}>
      <Text label="What you did" most={500} value={text} onValue={setText} />
      {alert.lot !== null && <Options name="disposition" legend="And the fruit" options={dispositions} words={dispositionWords} chosen={disposition} onChoose={setDisposition} />}
      {disposition === 'on hold' && <p class="caution">This only says so. Put the lot on hold on its own page too: that keeps its jars from leaving.</p>}
    </AlertForm>
  );
};

/** A limit of a drum that is not judged for now: nobody is told anything by it until it is put back. */
export const OutOfServiceForm = ({ alert, onStop, onClose }: { readonly alert: Alert; readonly onStop: (reason: string) => Promise<Failure | null>; readonly onClose: () => void }) => {
  const [reason, setReason] = useState('');
  return (
    <AlertForm alert={alert} title="Stop judging" submit="Stop judging this limit" onSubmit={() => onStop(reason)} onClose={onClose}>
      <p class="caution">Until somebody puts it back, nobody is told when this limit of this drum is passed. For a short time put the alert aside instead.</p>
      <Text label="Why" most={300} value={reason} onValue={setReason} />
    </AlertForm>
  );
};
