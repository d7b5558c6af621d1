/**
 * Heat that a drum takes up per degree.
 *
 * C = V_b ρ c_b + m_f c_f, with ρ 1.056 kg/L and c_b 3.8 kJ/(kg·K) of 8 % brine, c_f 3.2 kJ/(kg·K) of olives (assumption: three
 * fifths water, a fifth oil, stone).
 *
 * Source: heat balance. Units: L, kg, kJ/K. Valid range: brine of 4 to 12 % salt; the vessel itself (a few kg of plastic) is left out.
 * Example: 26.5 L of brine on 28.6 kg of olives: 198 kJ/K.
 */
export const drumHeatCapacityKjPerK = (brineL: number, fruitKg: number): number => brineL * brineKgPerL * brineKjPerKgK + fruitKg * olivesKjPerKgK;

const brineKgPerL = 1.056;
const brineKjPerKgK = 3.8;
const olivesKjPerKgK = 3.2;
