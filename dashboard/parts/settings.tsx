import { useRef } from 'preact/hooks';
import { themes } from '../state/settings.ts';
import { playTone } from '../client/tone.ts';
import { Options } from './forms/options.tsx';
import { useScreen } from './screen.ts';
import './settings.css';

/** What this screen prefers. A native dialog: it keeps the keyboard inside and closes with Escape. */
export const SettingsButton = () => {
  const { settings, session } = useScreen();
  const dialog = useRef<HTMLDialogElement>(null);
  const { units } = settings;
  const user = session.session.value?.user ?? null;
  return (
    <>
      <button type="button" onClick={() => dialog.current?.showModal()}>
        This screen
      </button>
      <dialog ref={dialog} class="settings" aria-labelledby="settings-title">
        <h2 id="settings-title">This screen</h2>
        <Options name="theme" legend="Light" options={themes} chosen={settings.theme.value} onChoose={(theme) => (settings.theme.value = theme)} />
        <Options name="temperature" legend="Temperature" options={['C', 'F']} words={{ C: '°C', F: '°F' }} chosen={units.value.temperature} onChoose={(temperature) => (units.value = { ...units.value, temperature })} />
        <Options name="mass" legend="Mass" options={['g', 'oz']} words={{ g: 'g, kg', oz: 'oz, lb' }} chosen={units.value.mass} onChoose={(mass) => (units.value = { ...units.value, mass })} />
        <Options name="volume" legend="Volume" options={['L', 'gal']} words={{ L: 'L', gal: 'US gal' }} chosen={units.value.volume} onChoose={(volume) => (units.value = { ...units.value, volume })} />
        <Options
          name="sound" legend="Sound of a new alert" options={['off', 'on']} chosen={settings.sound.value ? 'on' : 'off'}
          onChoose={(choice) => {
            settings.sound.value = choice === 'on';
            if (choice === 'on') playTone();
          }}
        />
        <div class="settings-acts">
          {user !== null && (
            <button type="button" class="quiet" onClick={() => void session.signOut()}>
              Sign out {user.name}
            </button>
          )}
          <button type="button" class="main-act" onClick={() => dialog.current?.close()}>
            Close
          </button>
        </div>
      </dialog>
    </>
  );
};
