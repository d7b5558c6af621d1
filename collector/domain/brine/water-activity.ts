import { waterMolarMass } from './range.ts';

/**
 * Osmotic coefficient of sodium chloride in water at 25 °C.
 *
 * φ = 1 - A√m/(1 + 1.2√m) + m·(β0 + β1·exp(-2√m)) + m²·C,  A 0.3915, β0 0.0765, β1 0.2664, C 0.00127.
 *
 * Source: Pitzer and Mayorga 1973, J. Phys. Chem. 77, 2300. Molality in mol/kg, 0 to 6; here to saturation (6.15).
 * Within 0.003 of the table of Robinson and Stokes. Example: 2 mol/kg gives 0.9843.
 */
export const osmoticCoefficient = (molality: number): number => {
  const root = Math.sqrt(molality);
  return 1 - (0.3915 * root) / (1 + 1.2 * root) + molality * (0.0765 + 0.2664 * Math.exp(-2 * root)) + molality * molality * 0.00127;
};

/**
 * Water activity of a sodium chloride brine.
 *
 * ln a_w = -2 · M_water · m · φ(m), M_water in kg/mol.
 *
 * Source: definition of the osmotic coefficient (Robinson and Stokes, "Electrolyte Solutions"). Given for 25 °C; between 0 and 40 °C
 * it moves by about 0.003. An ideal solution (φ = 1) would be wrong by 0.04 near saturation.
 * Example: 1 mol/kg (5.52 % w/w) gives 0.9669.
 */
export const waterActivity = (molality: number): number => Math.exp(-2 * (waterMolarMass / 1_000) * molality * osmoticCoefficient(molality));

export const waterActivitySource = 'Osmotic coefficient after Pitzer and Mayorga 1973, 25 °C';
