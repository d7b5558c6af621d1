import { sweetBitterness } from '#contract';
import type { Route } from './route.ts';

/** The screens that everybody may want from everywhere. Those at hand stand in one row on a phone; the others are one touch further. */
export interface Place {
  readonly words: string;
  readonly to: Route;
  readonly atHand?: true;
}

export const places: readonly Place[] = [
  { words: 'Wall', to: { view: 'wall' }, atHand: true },
  { words: 'Today', to: { view: 'today' }, atHand: true },
  { words: 'Alerts', to: { view: 'alerts', tab: 'now' }, atHand: true },
  { words: 'Lots', to: { view: 'lots' }, atHand: true },
  { words: 'Records', to: { view: 'records' } },
  { words: 'Picks', to: { view: 'picks' } },
  { words: 'Probes', to: { view: 'probes' } },
  { words: 'Heat plan', to: { view: 'heat-plan' } },
  { words: 'Trace', to: { view: 'trace', of: null } },
  { words: 'Stores', to: { view: 'stores' } },
  { words: 'Work out', to: { view: 'work-out', tool: null, inputs: '' } },
  { words: 'Compare', to: { view: 'compare', pair: null, bitterness: sweetBitterness } },
  { words: 'Season', to: { view: 'season', year: null } },
];
