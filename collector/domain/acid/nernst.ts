/**
 * Nernst slope: millivolts a perfect glass electrode gives per unit of pH.
 *
 * slope = 1000 · ln(10) · R · T / F, T in kelvin.
 *
 * Source: Nernst equation; R and F of CODATA 2018. Temperature in °C.
 * Example: 59.159 mV at 25 °C, 56.183 mV at 10 °C. Celsius for kelvin would give 4.96.
 */
export const nernstSlopeMv = (temperatureC: number): number => (1_000 * Math.LN10 * 8.314462618 * (temperatureC + 273.15)) / 96_485.33212;
