import type { DrumWarming } from './drum-warming.ts';
import { drumTemperature, walkDrum } from './drum-warming.ts';

/**
 * Hours until the drum's temperature crosses a limit from the side it is on now, or null when it does not within `hours`.
 *
 * In each stretch of steadily changing air the drum turns at most once, where s = ((T_0 - a + s τ)/τ) e^(-t/τ); on each side of that
 * moment the temperature only rises or only falls, so the crossing is found by halving, to the minute.
 *
 * Source: Newton's law of cooling. As good as the air it is given.
 * Example: a drum at 20 °C, τ 10 h, in air of 30 °C passes 25 °C after 10 ln 2 = 6.93 h.
 */
export const hoursUntilLimit = (warming: DrumWarming, limitC: number, direction: 'above' | 'below'): number | null => {
  const past = (temperatureC: number): boolean => (direction === 'above' ? temperatureC > limitC : temperatureC < limitC);
  if (past(warming.startC)) return 0;
  const tau = warming.timeConstantHours;
  let found: number | null = null;
  walkDrum(warming, (at, startC, span) => {
    const slope = (span.toC - span.fromC) / span.hours;
    const after = (hours: number): number => drumTemperature(startC, span.fromC, slope, hours, tau);
    const turn = tau * Math.log((startC - span.fromC + slope * tau) / (slope * tau));
    const stops = turn > 0 && turn < span.hours ? [turn, span.hours] : [span.hours];
    let low = 0;
    for (const stop of stops) {
      if (past(after(stop))) {
        let high = stop;
        while (high - low > precisionHours) {
          const middle = (low + high) / 2;
          if (past(after(middle))) high = middle;
          else low = middle;
        }
        found = at + high;
        return false;
      }
      low = stop;
    }
    return true;
  });
  return found;
};

const precisionHours = 1 / 60;
