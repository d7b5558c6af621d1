import { drumAhead, type AheadPoint, type DrumAheadInput } from './drum-ahead.ts';
import { bottlesNeeded } from './bottles-needed.ts';
import { drumHeatCapacityKjPerK } from './drum-heat-capacity.ts';
import { limitCrossing, type LimitCrossing } from './limit-crossing.ts';

/** `enough`: the middle of the course then stays inside; otherwise it comes later, or not at all. */
export type Help =
  | { readonly kind: 'shade' | 'floor'; readonly coolerC: number; readonly enough: boolean; readonly laterHours: number | null }
  | { readonly kind: 'ice'; readonly bottles: number; readonly bottleL: number; readonly atHours: number; readonly fits: boolean };

export interface Warmed {
  readonly ahead: DrumAheadInput;
  readonly points: readonly AheadPoint[];
  readonly crossing: LimitCrossing;
  readonly limitC: number;
  readonly brineL: number;
  readonly fruitKg: number;
}

/** The floor of a shed in warm weather is this much cooler than its air (assumption: half of a daily swing of 8 °C, half of it felt). */
const floorCoolerC = 2;
/** Below this the drum does not settle warmer than the air beside it: there is no sun to keep off. */
const leastSunC = 0.5;
/** Bottles go in this long before, so that they have melted. */
const iceBeforeHours = 3;
/** How long one lot of ice must do: over the rest of that warm day. */
const iceLastsHours = 9;
const largeL = 2;
const smallL = 0.5;
/** Below this a bottle of two litres floats the fruit. */
const largeFromL = 30;
/** One bottle displaces its litres of brine: more than a tenth of the drum's contents floats the fruit and runs over. */
const bottlesShare = 0.1;

/** What keeps a drum under its limit, least work first. Loose ice would thin the brine: bottles are sealed. */
export const whatHelps = ({ ahead, points, crossing, limitC, brineL, fruitKg }: Warmed): readonly Help[] => {
  const cooler = (kind: 'shade' | 'floor', coolerC: number): Help => {
    const air = ahead.air.map((span) => ({ ...span, fromC: span.fromC - coolerC, toC: span.toC - coolerC }));
    // One that is past its limit already is only brought back sooner.
    if (crossing.hours === 0) return { kind, coolerC, enough: false, laterHours: null };
    const then = limitCrossing(drumAhead({ ...ahead, air }), limitC, 'high');
    return { kind, coolerC, enough: then === null, laterHours: then === null ? null : Math.max(0, then.hours - crossing.hours) };
  };
  const { offsetC, timeConstantHours } = ahead.response;
  const atHours = Math.max(0, crossing.hours - iceBeforeHours);
  const bottleL = brineL + fruitKg >= largeFromL ? largeL : smallL;
  const bottles = bottlesNeeded({ points, limitC, atHours, untilHours: crossing.hours + iceLastsHours, timeConstantHours, heatCapacityKjPerK: drumHeatCapacityKjPerK(brineL, fruitKg), bottleL });
  return [
    ...(offsetC >= leastSunC ? [cooler('shade', offsetC)] : []),
    cooler('floor', floorCoolerC),
    { kind: 'ice', bottles, bottleL, atHours, fits: bottles * bottleL <= bottlesShare * (brineL + fruitKg) },
  ];
};
