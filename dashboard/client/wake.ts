/** Keeps the screen on while somebody walks the shed, where the browser offers that; where it does not, the screen dims as ever. */
export const keepAwake = (): (() => void) => {
  let lock: WakeLockSentinel | null = null;
  let wanted = true;
  const take = (): void => {
    const { wakeLock } = navigator as { readonly wakeLock?: WakeLock };
    if (wakeLock === undefined || document.visibilityState !== 'visible') return;
    wakeLock.request('screen').then(
      (granted) => {
        if (wanted) lock = granted;
        else void granted.release();
      },
      () => undefined,
    );
  };
  // The browser lets go of it whenever the page is out of sight.
  document.addEventListener('visibilitychange', take);
  take();
  return () => {
    wanted = false;
    document.removeEventListener('visibilitychange', take);
    void lock?.release();
  };
};
