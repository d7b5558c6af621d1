/**
 * The leaching equations stepped forward by the classical fourth-order Runge-Kutta method (Abramowitz and Stegun 1964, 25.5.10): another
 * road to the same numbers than the closed form of the model, at one temperature.
 *
 * dF/dt = -k (F - B) - h F;  dB/dt = k (F - B)/r - h B; a change replaces a fraction of B by clean brine.
 */
export interface SteppedCure {
  readonly leachingPerDay: number;
  readonly hydrolysisPerDay: number;
  readonly ratio: number;
  readonly startingFlesh: number;
  readonly changes: readonly { readonly day: number; readonly fraction: number }[];
}

/** Days until the flesh is down to a target, to a hundredth of a day. */
export const steppedDaysTo = ({ leachingPerDay: k, hydrolysisPerDay: h, ratio, startingFlesh, changes }: SteppedCure, target: number): number => {
  const slope = (flesh: number, brine: number): readonly [number, number] => [-k * (flesh - brine) - h * flesh, (k * (flesh - brine)) / ratio - h * brine];
  const step = 0.01;
  let [flesh, brine] = [startingFlesh, 0];
  for (let tick = 0; tick < 100_000; tick++) {
    for (const change of changes) if (Math.round(change.day / step) === tick) brine *= 1 - change.fraction;
    if (flesh <= target) return tick * step;
    const [f1, b1] = slope(flesh, brine);
    const [f2, b2] = slope(flesh + (f1 * step) / 2, brine + (b1 * step) / 2);
    const [f3, b3] = slope(flesh + (f2 * step) / 2, brine + (b2 * step) / 2);
    const [f4, b4] = slope(flesh + f3 * step, brine + b3 * step);
    flesh += (step / 6) * (f1 + 2 * f2 + 2 * f3 + f4);
    brine += (step / 6) * (b1 + 2 * b2 + 2 * b3 + b4);
  }
  return Number.NaN;
};
