/** Kitchen and market measures in metric; exact by definition (NIST Handbook 44, appendix C), the cup rounded to its definition. */
export const usGallonL = 3.785411784;
export const usCupL = usGallonL / 16;
export const usQuartL = usGallonL / 4;
export const ounceG = 28.349523125;
export const poundG = 453.59237;
