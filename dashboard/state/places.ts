import { sweetBitterness } from '#contract';
import type { Route } from './route.ts';

/** The screens that everybody may want from everywhere; each is one touch away from every other. */
export interface Place {
  readonly words: string;
  readonly to: Route;
}

export const places: readonly Place[] = [
  { words: 'Wall', to: { view: 'wall' } },
  { words: 'Today', to: { view: 'today' } },
  { words: 'Picks', to: { view: 'picks' } },
  { words: 'Lots', to: { view: 'lots' } },
  { words: 'Heat plan', to: { view: 'heat-plan' } },
  { words: 'Work out', to: { view: 'work-out', tool: null, inputs: '' } },
  { words: 'Compare', to: { view: 'compare', pair: null, bitterness: sweetBitterness } },
  { words: 'Season', to: { view: 'season', year: null } },
];
