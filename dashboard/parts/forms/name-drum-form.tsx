import { useState } from 'preact/hooks';
import { slugPattern, type Drum } from '#contract';
import { volumeScale } from '../../format/units.ts';
import { slugFrom } from '../../state/first-steps.ts';
import { useScreen } from '../screen.ts';
import { failureWords } from './form-frame.ts';
import { Stepper } from './stepper.tsx';

/** A drum needs a name and a volume; its short name for topics and links is made from the name. */
export const NameDrumForm = ({ taken, onNamed }: { readonly taken: readonly string[]; readonly onNamed: (drum: Drum) => void }) => {
  const { call, settings } = useScreen();
  const [name, setName] = useState(taken.length === 0 ? 'Barrel 1' : '');
  const [volumeL, setVolumeL] = useState(60);
  const [insulated, setInsulated] = useState(false);
  const [problem, setProblem] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const id = slugFrom(name);
  const fits = slugPattern.test(id) && !taken.includes(id);

  const add = async (): Promise<void> => {
    setBusy(true);
    const answer = await call('addDrum', { body: { id, name: name.trim(), volumeL, insulated } });
    setBusy(false);
    if (answer.ok) onNamed(answer.value);
    else setProblem(failureWords(answer.error));
  };

  return (
    <form
      class="act-form"
      onSubmit={(event) => {
        event.preventDefault();
        void add();
      }}
    >
      <label class="field">
        Name, as it stands on the drum
        <input type="text" required maxLength={40} value={name} onInput={(event) => setName(event.currentTarget.value)} />
        <span class="hint">{id === '' ? 'Letters or digits, please.' : taken.includes(id) ? `There is a drum ${id} already.` : `Short name: ${id}`}</span>
      </label>
      <Stepper label="volume, to the brim" value={volumeL} scale={volumeScale(settings.units.value)} step={5} decimals={1} least={0.5} onChange={setVolumeL} />
      <label class="check">
        <input type="checkbox" checked={insulated} onChange={(event) => setInsulated(event.currentTarget.checked)} />
        <span>wrapped or insulated</span>
      </label>
      {problem !== null && (
        <p class="problem" role="alert">
          {problem}
        </p>
      )}
      <button type="submit" class="main-act" disabled={busy || !fits}>
        Name it
      </button>
    </form>
  );
};
