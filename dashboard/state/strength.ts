import { fleshWaterL, percentWwFrom, settledPercentWw } from '#contract';

/**
 * How strong a brine is as poured, and what it settles at once the fruit has taken its share, in % of mass. Null where the strength is
 * outside what the density equation is known for.
 */
export interface Strength {
  readonly pouredPercent: number;
  readonly settledPercent: number | null;
}

const roomC = 20;

/** Below this share of salt, by mass and after settling, brine holds little back (Codex standard for table olives, CXS 66: minimum of natural olives in brine). */
export const barrierPercent = 6;

export const strengthOf = (saltGPerL: number, brineL: number, fruitKg: number | null, temperatureC = roomC): Strength | null => {
  const poured = percentWwFrom('g-per-l', saltGPerL, temperatureC);
  if (!poured.ok) return null;
  const settled = fruitKg === null || fruitKg <= 0 || brineL <= 0 ? null : settledPercentWw({ volumeL: brineL, percentWw: poured.value }, fleshWaterL({ fruitKg }), temperatureC);
  return { pouredPercent: poured.value, settledPercent: settled?.ok === true ? settled.value : null };
};

export const percent = (value: number): string => `${value.toFixed(1)}\u00a0%`;

/** The caution that belongs to a strength, in the words of the screen; null where none is due. */
export const caution = (saltGPerL: number, strength: Strength | null): string | null => {
  if (saltGPerL === 0) {
    return 'Plain water holds nothing back: no salt, no acid. Keep this stage short and cool, change the water at least daily, never seal the drum. Local rules apply.';
  }
  if (strength === null) return 'Stronger than this is known for: nearly saturated brine. Check the amounts.';
  if (strength.pouredPercent < barrierPercent) {
    return `Under ${String(barrierPercent)} % salt the brine is no barrier. Keep it short and cool, and do not let it stand sealed. Local rules apply.`;
  }
  if (strength.settledPercent !== null && strength.settledPercent < barrierPercent) {
    return `It will settle under ${String(barrierPercent)} %: the fruit's own water thins it in a few days. Measure again then; local rules apply.`;
  }
  return null;
};
