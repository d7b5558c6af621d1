/**
 * Arrhenius factor: how much faster a step runs at a temperature than at 20 °C.
 *
 * k(T) / k(20 °C) = exp[-(Ea/R) · (1/T - 1/293.15)], T in kelvin.
 *
 * Source: Arrhenius equation; R is the molar gas constant of CODATA 2018.
 * Units: temperature in °C, activation energy in kJ/mol, factor without unit.
 * Valid range: liquid brine, about -10 to 60 °C; outside it the number is arithmetic only.
 * Example: 40 kJ/mol at 10 °C gives 0.560; at 25 °C, 1.317.
 */
export const arrheniusFactor = (temperatureC: number, activationEnergyKjPerMol: number): number =>
  Math.exp(-(activationEnergyKjPerMol / gasConstantKjPerMolK) * (1 / (temperatureC + kelvinOffset) - 1 / (referenceC + kelvinOffset)));

export const gasConstantKjPerMolK = 8.314462618e-3;

export const kelvinOffset = 273.15;

/** The temperature at which the rate constants of the cure are stated. */
export const referenceC = 20;
