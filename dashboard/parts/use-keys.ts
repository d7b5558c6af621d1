import { useEffect, useRef } from 'preact/hooks';

/** Whether somebody is typing in a field, which then gets every key for itself. */
const isTyping = (target: EventTarget | null): boolean => target instanceof HTMLElement && target.matches('input:not([type=radio], [type=checkbox]), textarea, select');

/**
 * Keys of the whole screen, for a splash-proof key pad by the drums. A key that was used says so (true) and does nothing else; one that
 * is held down counts once.
 */
export const useKeys = (take: (key: string, event: KeyboardEvent) => boolean): void => {
  const latest = useRef(take);
  latest.current = take;
  useEffect(() => {
    const listen = (event: KeyboardEvent): void => {
      if (event.repeat || event.ctrlKey || event.metaKey || event.altKey || event.defaultPrevented || isTyping(event.target)) return;
      if (latest.current(event.key, event)) event.preventDefault();
    };
    document.addEventListener('keydown', listen);
    return () => document.removeEventListener('keydown', listen);
  }, []);
};
