/** A value as it arrives while somebody waits for it to settle. */
export interface Sample {
  readonly at: number;
  readonly value: number;
}

export interface Steadiness {
  readonly isSteady: boolean;
  /** For how long it has stayed within reach of the newest value, ms. */
  readonly heldMs: number;
  readonly spread: number;
}

/** How near, and for how long: 1 mV or 0.02 pH over 20 s (common practice: an electrode in order settles in 20 to 30 s); ice: 0.1 °C. */
export const settleMs = 20_000;
export const settleWithin = { mv: 1, ph: 0.02, temperature: 0.1 } as const;

/** Steady: since at least 20 s every value lies within reach of the newest. One value says nothing, however old it is. */
export const steadiness = (samples: readonly Sample[], within: number): Steadiness => {
  const last = samples.at(-1);
  if (last === undefined) return { isSteady: false, heldMs: 0, spread: 0 };
  const firstOff = samples.findLastIndex(({ value }) => Math.abs(value - last.value) > within + 1e-9);
  const held = samples.slice(firstOff + 1);
  const heldMs = last.at - (held[0]?.at ?? last.at);
  const values = held.map(({ value }) => value);
  return { isSteady: held.length >= 2 && heldMs >= settleMs, heldMs, spread: Math.max(...values) - Math.min(...values) };
};

/** One more sample; the same reading told twice is one. Only the last two minutes matter. */
export const withSample = (samples: readonly Sample[], sample: Sample): readonly Sample[] => {
  const last = samples.at(-1);
  if (last !== undefined && sample.at <= last.at) return samples;
  return [...samples.filter(({ at }) => at > sample.at - 120_000), sample];
};
