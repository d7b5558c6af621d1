/** What hands do to a drum beside pouring: stir it, let its gas out, press the fruit under, lay ice in or on it. */
export const handlings = ['stirred', 'vented', 'pressed-under', 'cooled'] as const;
export type Handling = (typeof handlings)[number];
