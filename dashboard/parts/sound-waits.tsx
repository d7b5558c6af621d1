import { useState } from 'preact/hooks';
import { playTone, soundState } from '../client/tone.ts';
import { useScreen } from './screen.ts';

/** A wall that is to sound but may not yet, because nobody has touched it since it was opened, says so: silence would look like peace. */
export const SoundWaits = () => {
  const { clock, settings } = useScreen();
  const [touched, setTouched] = useState(false);
  // Looked at again as time goes on: a touch anywhere lets the page sound.
  void clock.now.value;
  if (!settings.sound.value || touched || soundState() !== 'waits') return null;
  return (
    <button
      type="button"
      class="sound-waits"
      onClick={() => {
        playTone();
        setTouched(true);
      }}
    >
      Touch to let alerts sound
    </button>
  );
};
