/** Bitter substance in flesh water and in brine, relative to the flesh of a fresh green fruit. */
export interface Bitter {
  readonly flesh: number;
  readonly brine: number;
}

/**
 * Two-compartment leaching with hydrolysis, exact over any time without a brine change.
 *
 * dC_f/dt = -kL (C_f - C_b) - kH C_f;  dC_b/dt = +kL (C_f - C_b)/r - kH C_b.
 * With Λ = ∫kL dt, H = ∫kH dt and C_eq = (C_f0 + r C_b0)/(1 + r):
 * C = e^-H [C_eq + (C_0 - C_eq) e^(-Λ(1 + 1/r))], the same for flesh and brine.
 *
 * Source: mass balance with first-order exchange (brined cucumbers equilibrate first-order, Potts 1986); parameters are assumptions.
 * Units: concentrations relative to fresh green flesh, Λ and H without unit, r litres of brine per litre of flesh water.
 * Valid range: Λ, H ≥ 0; r > 0; volumes constant.
 * Example: from (1, 0) with r = 1.5, Λ = 0.6, H = 0 to (0.62073, 0.25285).
 */
export const leach = (from: Bitter, leaching: number, hydrolysis: number, ratio: number): Bitter => {
  const equal = (from.flesh + ratio * from.brine) / (1 + ratio);
  const left = Math.exp(-leaching * (1 + 1 / ratio));
  const kept = Math.exp(-hydrolysis);
  return { flesh: kept * (equal + (from.flesh - equal) * left), brine: kept * (equal + (from.brine - equal) * left) };
};

/** A fraction of the brine is replaced by clean brine. */
export const changeBrine = (from: Bitter, fraction: number): Bitter => ({ flesh: from.flesh, brine: (1 - fraction) * from.brine });
