/**
 * Degrees of a salometer: 100° is brine saturated at 60 °F (15.6 °C), 26.395 % w/w, and the scale is even in % w/w.
 *
 * °S = 100 · w / 26.395
 *
 * Source: "The Salometer and How to Use It" (60 °F scale). Not every instrument is this one: canning salometers exist with 100° = 25 %, meat
 * instruments are scaled at 38 °F, makers also print 26.4 and 26.5 %. The full strength of the scale is therefore an argument.
 * Example: 20 °S is 5.279 % w/w; 40 °S is 10.56 % on this scale and 10.0 % on the 25 % one.
 */
export const salometerDegrees = (percentWw: number, fullScalePercentWw: number = saturatedAt60F): number => (100 * percentWw) / fullScalePercentWw;

export const percentWwFromSalometer = (degrees: number, fullScalePercentWw: number = saturatedAt60F): number => (degrees * fullScalePercentWw) / 100;

export const saturatedAt60F = 26.395;
