import type { Bitterness } from './batch.ts';
import type { LeftOut } from './compare-cures.ts';
import { leastMeasuredShare } from './compare-cures.ts';
import { cureRanges } from './cure-regression.ts';

export interface LeftOutFacts {
  readonly endPoint: Bitterness;
  /** The latest tasting in the drum; null: none. */
  readonly last: Bitterness | null;
  /** Share of the cure's hours with a known temperature. */
  readonly measured: number | null;
}

/** Why a cure is not compared, in words a grower can act on. */
export const leftOutText = (reason: LeftOut, { endPoint, last, measured }: LeftOutFacts): string => {
  switch (reason) {
    case 'not-finished':
      return last === null ? 'still curing, not tasted yet' : `still curing: last tasted ${last} of 10, above ${endPoint}`;
    case 'bitter-again':
      return `last tasted ${last ?? ''} of 10, above ${endPoint} again: it is not done`;
    case 'jarred-bitter':
      return `jarred at ${last ?? ''} of 10, above ${endPoint}: it stopped at another end point`;
    case 'never-tasted':
      return 'jarred without a tasting: when it turned is not known';
    case 'no-temperatures':
      return 'no probe measured its temperature';
    case 'too-many-gaps':
      return `its temperature is known for ${Math.floor((measured ?? 0) * 100)} % of its hours; ${leastMeasuredShare * 100} % are needed`;
    case 'outside-valid-range': {
      const { temperatureC, days } = cureRanges;
      return `outside what can be compared: ${temperatureC.low} to ${temperatureC.high} °C, ${days.low} to ${days.high} days`;
    }
  }
};
