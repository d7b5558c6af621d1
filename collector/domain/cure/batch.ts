/** The words of a cure; every schema, screen and paper derives its lists from here. */
export const cuts = ['whole', 'slit', 'cracked', 'pitted'] as const;
export type Cut = (typeof cuts)[number];

/** changed-brine: leached by changes. kept-brine: fermented in its first brine. water-then-brine: soaked in changed water first. */
export const cureStyles = ['changed-brine', 'kept-brine', 'water-then-brine'] as const;
export type CureStyle = (typeof cureStyles)[number];

export const maturities = ['green', 'turning', 'black'] as const;
export type Maturity = (typeof maturities)[number];

export const stages = ['soak', 'leach', 'ferment', 'hold', 'jarred', 'rest', 'ready'] as const;
export type Stage = (typeof stages)[number];

/** Stages in which the fruit is in the drum and the drum must be watched. */
export const inDrum: ReadonlySet<Stage> = new Set<Stage>(['soak', 'leach', 'ferment', 'hold']);

export const acids = ['acetic', 'lactic', 'citric'] as const;
export type Acid = (typeof acids)[number];

/** Bitterness on the grower's own scale: 0 none, 4 pleasant, 6 strong, 10 inedible fresh fruit (assumption). */
export type Bitterness = number;

/** At or below this score the grower calls the fruit sweet and the batch waits for its jars (assumption). */
export const sweetBitterness: Bitterness = 1;

/** Jars rest before they are ready to eat: two weeks (common practice, no source). */
export const restDays = 14;
