import { lstatSync, statSync } from 'node:fs';

/**
 * Looks several times a second whether the device behind a port's name is still the one that was opened.
 *
 * Two habits of `serialport` 13 make that needed on Linux: when the far side hangs up, its reads end with nothing again and again
 * and no `close` ever comes; and what it has read waits for the next turn of the event loop, which an idle program may not have.
 * A timer mends both: it ends the first, and is the turn that the second waits for.
 */
export const guardPort = (path: string, gone: () => void): (() => void) => {
  const opened = identityOf(path);
  const timer = setInterval(() => {
    if (identityOf(path) === opened) return;
    clearInterval(timer);
    gone();
  }, lookEveryMs);
  return () => clearInterval(timer);
};

const lookEveryMs = 100;

/** The name itself may be a link that is made anew, and so may the device that it leads to. */
const identityOf = (path: string): string | null => {
  try {
    const [name, device] = [lstatSync(path), statSync(path)];
    return [name.ino, device.ino, device.rdev].join(' ');
  } catch {
    return null;
  }
};
