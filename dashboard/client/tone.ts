/** Two soft notes for a new alert. Browsers keep a page silent until somebody has touched it; then nothing is heard, and nothing breaks. */
let audio: AudioContext | null = null;

const note = (context: AudioContext, hertz: number, startS: number): void => {
  const oscillator = context.createOscillator();
  const loudness = context.createGain();
  oscillator.frequency.value = hertz;
  loudness.gain.setValueAtTime(0, startS);
  loudness.gain.linearRampToValueAtTime(0.25, startS + 0.03);
  loudness.gain.exponentialRampToValueAtTime(0.001, startS + 0.6);
  oscillator.connect(loudness).connect(context.destination);
  oscillator.start(startS);
  oscillator.stop(startS + 0.65);
};

/** `waits`: the browser lets this page sound once somebody has touched it. */
export const soundState = (): 'sounds' | 'waits' | 'none' => {
  try {
    audio ??= new AudioContext();
    return audio.state === 'running' ? 'sounds' : 'waits';
  } catch {
    return 'none';
  }
};

export const playTone = (): void => {
  try {
    audio ??= new AudioContext();
    void audio.resume().catch(() => undefined);
    note(audio, 660, audio.currentTime + 0.02);
    note(audio, 880, audio.currentTime + 0.32);
  } catch {
    // A machine without sound shows the alert all the same.
  }
};
