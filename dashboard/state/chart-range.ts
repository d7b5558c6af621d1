import { dayMs, hourMs, minuteMs } from '#contract';

/** The stretch of time a chart shows, and how buttons, keys and drags change it: pure, so that each is tested without a chart. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
}

/** How far there is anything to see: from the start of the cure to now. */
export type Bounds = Stretch;

export const presets = ['24 h', '7 days', 'whole cure'] as const;
export type Preset = (typeof presets)[number];

const shortestMs = 30 * minuteMs;

export const fit = (stretch: Stretch, bounds: Bounds): Stretch => {
  const most = Math.max(bounds.to - bounds.from, shortestMs);
  const length = Math.min(Math.max(stretch.to - stretch.from, shortestMs), most);
  const middle = (stretch.from + stretch.to) / 2;
  const from = Math.min(Math.max(middle - length / 2, bounds.from), bounds.to - length);
  return { from, to: from + length };
};

export const presetStretch = (preset: Preset, bounds: Bounds): Stretch => {
  const length = preset === '24 h' ? 24 * hourMs : preset === '7 days' ? 7 * dayMs : bounds.to - bounds.from;
  // A cure that began an hour ago is shown from its beginning, not as a speck at the end of an empty week.
  return { from: Math.max(bounds.to - length, Math.min(bounds.from, bounds.to - 2 * hourMs)), to: bounds.to };
};

/** Twice as near or as far, around the middle; at the newest edge the newest stays in sight. */
export const zoom = (stretch: Stretch, factor: number, bounds: Bounds): Stretch => {
  const length = (stretch.to - stretch.from) * factor;
  const atEnd = bounds.to - stretch.to < (stretch.to - stretch.from) * 0.02;
  const middle = (stretch.from + stretch.to) / 2;
  return fit(atEnd ? { from: stretch.to - length, to: stretch.to } : { from: middle - length / 2, to: middle + length / 2 }, bounds);
};

/** Half a screen earlier (-1) or later (1). */
export const step = (stretch: Stretch, direction: -1 | 1, bounds: Bounds): Stretch => {
  const by = (direction * (stretch.to - stretch.from)) / 2;
  return fit({ from: stretch.from + by, to: stretch.to + by }, bounds);
};

/** From two ends of a drag, whichever way it went; null for a mere click. */
export const dragged = (stretch: Stretch, widthPx: number, fromPx: number, toPx: number, bounds: Bounds): Stretch | null => {
  if (Math.abs(toPx - fromPx) < 8 || widthPx <= 0) return null;
  const time = (px: number): number => stretch.from + (Math.min(Math.max(px, 0), widthPx) / widthPx) * (stretch.to - stretch.from);
  return fit({ from: time(Math.min(fromPx, toPx)), to: time(Math.max(fromPx, toPx)) }, bounds);
};
