/** Kitchen and market measures in metric; exact by definition (NIST Handbook 44, appendix C). */
export const usGallonL = 3.785411784;
export const usQuartL = usGallonL / 4;
export const poundG = 453.59237;
