import { defaultBufferUncertainty, phUncertainty } from './ph-uncertainty.ts';

/**
 * The uncertainty limits are moved by while nothing better is known of a pH: a meter checked that day in good buffers, showing
 * hundredths, in a brine of 10 % or less. Rounded to hundredths, as it is shown.
 *
 * Source and equation: `phUncertainty`, whose junction allowance of ± 0.1 from 6 to 10 % salt is the largest term.
 * Valid range: that state; an older calibration, a strip or a stronger brine is worse. Value: 0.12.
 */
export const usualPhUncertainty = ((): number => {
  const usual = phUncertainty({ percentWw: 10, calibrationAgeDays: 0, resolution: 0.01, bufferUncertainty: defaultBufferUncertainty });
  // Constants inside their own ranges cannot be refused; a change that makes them so must not pass unseen.
  return usual.ok ? Math.round(usual.value.expanded * 100) / 100 : Number.POSITIVE_INFINITY;
})();
