/** Water on the glass doubles touches. The first opens a sheet; the second would press whatever lies there by then. */
export interface Touch {
  readonly x: number;
  readonly y: number;
  readonly atMs: number;
  /** What is pressed: the same key may be pressed as fast as a finger can. */
  readonly control: unknown;
}

/** Nobody reads a new screen and presses a key of it sooner (assumption). */
const doubledWithinMs = 400;
/** About 4 mm on a phone: as far as a drop carries a touch (assumption). */
const doubledWithinPx = 24;

/** Whether a touch only repeats the one before it, on another control that has come to lie under the finger since. */
export const createDoubledTouch = (): ((touch: Touch) => boolean) => {
  let before: Touch | null = null;
  return (touch) => {
    const last = before;
    before = touch;
    return last !== null && touch.control !== last.control && touch.atMs - last.atMs < doubledWithinMs && Math.hypot(touch.x - last.x, touch.y - last.y) <= doubledWithinPx;
  };
};
