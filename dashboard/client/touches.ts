import type { Touch } from '../state/doubled-touch.ts';

const controls = 'a, button, input, label, select, summary, textarea';

/** Asks of each touch whether it is a doubled one, and keeps that from pressing anything. Mouse and keyboard are not asked. */
export const dropTouches = (isDoubled: (touch: Touch) => boolean): void => {
  let doubled = false;
  document.addEventListener(
    'pointerdown',
    ({ clientX, clientY, pointerType, timeStamp, target }) => {
      doubled = pointerType === 'touch' && isDoubled({ x: clientX, y: clientY, atMs: timeStamp, control: target instanceof Element ? target.closest(controls) : null });
    },
    { capture: true },
  );
  document.addEventListener(
    'click',
    (event) => {
      if (!doubled || event.detail === 0) return;
      event.preventDefault();
      event.stopPropagation();
    },
    { capture: true },
  );
};
