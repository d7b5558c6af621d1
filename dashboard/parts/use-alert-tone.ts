import { useEffect, useRef } from 'preact/hooks';
import type { Alert } from '#contract';
import { playTone } from '../client/tone.ts';
import { unseenIds } from '../state/alerts.ts';
import { useScreen } from './screen.ts';

/** Sounds once for each alert that was not there before, where this screen is set to sound. */
export const useAlertTone = (alerts: readonly Alert[]): void => {
  const { settings } = useScreen();
  const known = useRef<ReadonlySet<string> | null>(null);
  const ids = unseenIds(alerts).join(' ');
  useEffect(() => {
    const before = known.current;
    const current = new Set(ids.split(' ').filter((id) => id !== ''));
    known.current = current;
    // What stood there when the page was opened has been announced already.
    if (before !== null && settings.sound.peek() && [...current].some((id) => !before.has(id))) playTone();
  }, [ids, settings]);
};
