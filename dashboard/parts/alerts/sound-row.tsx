import { useState } from 'preact/hooks';
import { playTone, soundState } from '../../client/tone.ts';
import { Options } from '../forms/options.tsx';
import { useScreen } from '../screen.ts';

/** The sound of this one screen. A browser keeps a page silent until it was touched since it was opened: that is said, not hidden. */
export const SoundRow = () => {
  const { settings } = useScreen();
  const [heard, setHeard] = useState<string | null>(null);
  const test = (): void => {
    playTone();
    // The browser answers a moment later whether it lets the page sound.
    setTimeout(() => setHeard(soundState() === 'sounds' ? 'It sounded: two notes. If you heard nothing, look at the loudness of this machine.' : 'This browser or machine does not let the page sound.'), 700);
  };
  return (
    <li data-status={settings.sound.value ? 'ok' : 'not-tried'}>
      <h3>This screen</h3>
      <p class="dim">Two notes on the wall for a new alert of high or medium priority</p>
      <Options name="wall-sound" legend="Sound here" options={['off', 'on']} chosen={settings.sound.value ? 'on' : 'off'} onChoose={(choice) => (settings.sound.value = choice === 'on')} />
      <p>After each start of the browser the page must be touched once before it may sound. The wall says so while it waits for that.</p>
      {heard !== null && <p role="status">{heard}</p>}
      <div class="outlet-acts">
        <button type="button" aria-label="Sound a test: this screen" onClick={test}>
          Sound a test
        </button>
      </div>
    </li>
  );
};
