import { useState } from 'preact/hooks';
import type { Instrument } from '#contract';
import { Dialog } from '../parts/forms/dialog.tsx';
import { CheckSettingsForm } from '../parts/inspection/check-settings-form.tsx';
import { InspectionFrame } from '../parts/inspection/inspection-frame.tsx';
import { InstrumentCard, type InDoubt } from '../parts/inspection/instrument-card.tsx';
import { AddInstrumentForm, CheckForm, DoubtForm } from '../parts/inspection/instrument-forms.tsx';
import { useScreen } from '../parts/screen.ts';
import { useLoaded } from '../parts/use-loaded.ts';

type Doing = { readonly what: 'add' } | { readonly what: 'check'; readonly instrument: Instrument } | { readonly what: 'decide'; readonly doubt: InDoubt };

/** Every instrument with the log of its checks. */
export const InstrumentsView = () => {
  const { call, session, wall } = useScreen();
  const { value, failure, load } = useLoaded<'instruments'>(() => call('instruments'));
  const [doing, setDoing] = useState<Doing | null>(null);
  const zone = wall.wall.value?.site.zone ?? 'UTC';
  const done = (): void => {
    setDoing(null);
    void load();
  };
  const instruments = value?.instruments ?? [];
  return (
    <InspectionFrame title="Instruments" failure={failure} loaded={value !== null}>
      <p class="dim">A value counts as inside only where its instrument was checked: a pH meter on the day it is used for jars, a pH probe every week, a thermometer in ice every month.</p>
      {instruments.length === 0 && <p class="sum">No instrument is known yet. A probe is listed once it watches a drum.</p>}
      <ul class="instruments">
        {instruments.map((instrument) => (
          <InstrumentCard key={instrument.id} instrument={instrument} zone={zone} onCheck={() => setDoing({ what: 'check', instrument })} onDecide={(doubt) => setDoing({ what: 'decide', doubt })} />
        ))}
      </ul>
      {session.mayWork.value && (
        <p>
          <button type="button" class="main-act" onClick={() => setDoing({ what: 'add' })}>
            Add an instrument held in the hand
          </button>
        </p>
      )}
      {session.isOwner.value && (
        <details>
          <summary>The numbers of the checks</summary>
          <CheckSettingsForm onDone={() => void load()} />
        </details>
      )}
      {doing?.what === 'add' && (
        <Dialog title="An instrument" onClose={() => setDoing(null)}>
          <AddInstrumentForm onDone={done} />
        </Dialog>
      )}
      {doing?.what === 'check' && (
        <Dialog title="A check" aside={doing.instrument.name} onClose={() => setDoing(null)}>
          <CheckForm instrument={doing.instrument} onDone={done} />
        </Dialog>
      )}
      {doing?.what === 'decide' && (
        <Dialog title="Results in doubt" aside={`lot ${doing.doubt.lot}`} onClose={() => setDoing(null)}>
          <DoubtForm doubt={doing.doubt} onDone={done} />
        </Dialog>
      )}
    </InspectionFrame>
  );
};
