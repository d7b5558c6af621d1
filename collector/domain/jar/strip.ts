/** Instruments that are no meter, by the words in their name. */
export const isStrip = (instrument: string): boolean => /strip|paper|litmus/i.test(instrument);
