import type { ChartColours } from '../charts/drum-chart.ts';

/** The ink of the theme now shown, for the one part that draws on a canvas and cannot read style sheets itself. */
export const themeColours = (): ChartColours => {
  const style = getComputedStyle(document.documentElement);
  const ink = (name: string): string => style.getPropertyValue(`--${name}`).trim();
  return { ink: ink('ink'), dim: ink('dim'), edge: ink('edge'), trace: ink('trace'), band: ink('band'), red: ink('red'), row: ink('row'), gap: ink('gap-stroke'), accent: ink('accent') };
};
