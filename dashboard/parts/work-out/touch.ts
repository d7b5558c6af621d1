/** Whether fingers do the pointing here, so that large keys replace the keyboard of the phone. */
export const touchFirst = (): boolean => matchMedia('(pointer: coarse)').matches;
