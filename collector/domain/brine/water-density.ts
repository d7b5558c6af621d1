/**
 * Density of air-free water at one atmosphere, in kg/m³.
 *
 * ρ = (999.83952 + 16.945176 t - 7.9870401e-3 t² - 46.170461e-6 t³ + 105.56302e-9 t⁴ - 280.54253e-12 t⁵) / (1 + 16.879850e-3 t)
 *
 * Source: Kell 1975, J. Chem. Eng. Data 20, 97. Temperature in °C, 0 to 150 °C at one atmosphere.
 * Some copies print 16.89785e-3 in the divisor (two digits exchanged): that is 0.27 kg/m³ low at 20 °C.
 * Example: 20 °C gives 998.204.
 */
export const waterDensity = (temperatureC: number): number => {
  const t = temperatureC;
  const numerator = 999.83952 + t * (16.945176 + t * (-7.9870401e-3 + t * (-46.170461e-6 + t * (105.56302e-9 - t * 280.54253e-12))));
  return numerator / (1 + 16.87985e-3 * t);
};
