import type { Verifier } from '../shed/verification.ts';
import type { Handlers } from './mount.ts';

/** Checking everything that is written, from a screen. */
export const verificationRoutes = (verifier: Verifier): Handlers<'verification' | 'startVerification'> => ({
  verification: () => verifier.now(),
  startVerification: () => verifier.start(),
});
