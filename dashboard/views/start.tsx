import type { ComponentChildren } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { Drum, Probe, Site } from '#contract';
import { CopyLine } from '../parts/copy-line.tsx';
import { PlaceForm } from '../parts/forms/place-form.tsx';
import { NameDrumForm } from '../parts/forms/name-drum-form.tsx';
import { Go } from '../parts/go.tsx';
import { useScreen } from '../parts/screen.ts';
import { age } from '../format/age.ts';
import { inWords, showQuantity } from '../format/units.ts';
import { firstLine, stepOf } from '../state/first-steps.ts';
import '../parts/forms/forms.css';
import './start.css';

const pollMs = 2_000;

/** From nothing to a reading on the wall in three steps. The reading shows itself as it arrives. */
export const StartView = () => {
  const { call, session, settings, wall } = useScreen();
  const [site, setSite] = useState<Site | null>(null);
  const [probes, setProbes] = useState<readonly Probe[]>([]);
  const [named, setNamed] = useState<Drum | null>(null);
  const [another, setAnother] = useState(false);
  const [lost, setLost] = useState(false);
  const name = wall.wall.value?.site.name ?? site?.name ?? '';
  const zone = wall.wall.value?.site.zone ?? site?.zone ?? 'UTC';

  useEffect(() => {
    document.title = 'First steps · Brineward';
    void call('site').then((answer) => answer.ok && setSite(answer.value));
  }, [call]);

  useEffect(() => {
    const ask = async (): Promise<void> => {
      const answer = await call('probes');
      setLost(!answer.ok);
      if (answer.ok) setProbes(answer.value.probes);
    };
    void ask();
    const polling = setInterval(() => void ask(), pollMs);
    return () => clearInterval(polling);
  }, [call]);

  // Whoever comes back to this page goes on with the drum that has no probe yet.
  const drum = named ?? (another ? null : (wall.wall.value?.drums.find((known) => known.batch === null && 'absent' in known.now.temperature && known.now.temperature.absent === 'no-probe') ?? null));
  const step = stepOf(drum, probes);
  const line = site === null ? null : firstLine(site, location.hostname, probes);
  const heard = probes.flatMap((probe) => probe.channels.flatMap((channel) => (channel.last === null || channel.placement !== null ? [] : [{ probe: probe.id, unit: channel.unit, last: channel.last }])));
  const units = settings.units.value;
  const isFirst = (wall.wall.value?.drums.length ?? 0) === 0 || drum !== null;

  return (
    <main class="start">
      <header>
        <h1>{isFirst ? `${name} is ready to watch its first drum` : 'Watch another drum'}</h1>
        <p class="dim">Three steps: name the drum, send a reading, say where the probe hangs.</p>
        {!isFirst && <Go to={{ view: 'wall' }}>‹ Wall</Go>}
      </header>
      {!session.isOwner.value && <p class="caution">Only the owner adds drums. You can send readings and place probes.</p>}
      {lost && (
        <p class="problem" role="alert">
          The shed computer does not answer just now; this page goes on asking.
        </p>
      )}
      <ol class="steps">
        <Step number={1} title="Name the drum" state={step === 'drum' ? 'now' : 'done'} done={drum === null ? '' : `${drum.name}, ${String(drum.volumeL)} L`}>
          <NameDrumForm
            taken={(wall.wall.value?.drums ?? []).map(({ id }) => id)}
            onNamed={(given) => {
              setNamed(given);
              void wall.refresh();
            }}
          />
        </Step>
        <Step number={2} title="Send a reading" state={heard.length > 0 || step === 'done' ? 'done' : step === 'drum' ? 'next' : 'now'} done={heard.map(({ probe, unit, last }) => `${probe}: ${inWords(showQuantity(last.value, unit, units))}, ${age(last.ageS * 1_000)} ago`).join('; ')} open={step !== 'done'}>
          {line !== null && (
            <>
              <p>A probe publishes a plain number over MQTT, to this topic:</p>
              <CopyLine line={line.topic} label="Topic" />
              <p>No probe at hand? This line sends 18.4 °C from any machine with the Mosquitto clients:</p>
              <CopyLine line={line.command} label="Command" />
              {line.onlyHere && (
                <p class="dim">
                  The broker listens on this machine only. For probes on other machines start with <code>--mqtt-host 0.0.0.0</code>.
                </p>
              )}
            </>
          )}
          <p class="hear" role="status">
            {heard.length === 0 ? 'Listening …' : `Heard ${heard.map(({ probe, unit, last }) => `${probe}: ${inWords(showQuantity(last.value, unit, units))}`).join(', ')}.`}
          </p>
        </Step>
        <Step number={3} title="Say where the probe hangs" state={step === 'done' ? 'done' : drum !== null && probes.length > 0 ? 'now' : 'next'} done={drum === null ? '' : `it watches ${drum.name}`}>
          {drum !== null && <PlaceForm key={probes.length} drum={drum} zone={zone} onPlaced={() => void call('probes').then((answer) => answer.ok && setProbes(answer.value.probes))} />}
        </Step>
      </ol>
      {drum !== null && (
        <div class="start-end">
          {step === 'done' ? (
            <p role="status">
              <b>{drum.name} is being watched.</b> Its limits begin with a batch.
            </p>
          ) : (
            <p>
              <b>No probe for {drum.name} yet?</b> It takes a batch all the same, and is measured by hand.
            </p>
          )}
          <Go class={step === 'done' ? 'main-act' : 'quiet'} to={{ view: 'drum', drum: drum.id }}>
            Open a batch
          </Go>
          <Go class="quiet" to={{ view: 'wall' }}>
            To the wall
          </Go>
          <button
            type="button"
            class="quiet"
            onClick={() => {
              setNamed(null);
              setAnother(true);
            }}
          >
            Name another drum
          </button>
        </div>
      )}
    </main>
  );
};

interface StepProps {
  readonly number: number;
  readonly title: string;
  readonly state: 'next' | 'now' | 'done';
  readonly done: string;
  /** Open though it is not its turn: a reading may come at any time. */
  readonly open?: boolean;
  readonly children: ComponentChildren;
}

const Step = ({ number, title, state, done, open = false, children }: StepProps) => (
  <li class="step" data-state={state} aria-current={state === 'now' ? 'step' : undefined}>
    <h2>
      <span class="step-number" aria-hidden="true">
        {state === 'done' ? '✓' : number}
      </span>
      {title}
      <span class="hidden-words">{state === 'done' ? ', done' : state === 'next' ? ', comes next' : ''}</span>
    </h2>
    {state === 'done' && done !== '' && <p class="step-done">{done}</p>}
    {(state === 'now' || open) && <div class="step-body">{children}</div>}
  </li>
);
