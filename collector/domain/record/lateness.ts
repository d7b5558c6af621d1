import { hourMs, type EpochMs } from '../units/time.ts';

/** Written within two hours: at the time. Within a day: later. Beyond: late (assumptions; records are to be made as the work is done, 21 CFR 117.305). */
const laterAfterMs = 2 * hourMs;
const lateAfterMs = 24 * hourMs;

export const lateness = (at: EpochMs, writtenAt: EpochMs): 'later' | 'late' | null => (writtenAt - at > lateAfterMs ? 'late' : writtenAt - at > laterAfterMs ? 'later' : null);
