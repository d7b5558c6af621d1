/** A source of numbers spread evenly over (0, 1): whoever plays a season hands one in, so that the same play can be played again. */
export type Uniform = () => number;

const range = 2 ** 32;
/** The odd number nearest to 2^32 over the golden ratio: a step that visits every 32-bit state once. */
const step = 0x9e3779b9;

/**
 * A small seeded source: a counter in golden-ratio steps, each state mixed until every bit moves every other.
 *
 * Source: the counter is a Weyl sequence, the mixing the 32-bit finaliser of MurmurHash3 (Austin Appleby, public domain).
 * Period 2^32. Good enough to play seasons with; nothing here may guard a secret.
 */
export const seededUniform = (seed: number): Uniform => {
  let state = seed >>> 0;
  return () => {
    state = (state + step) >>> 0;
    let bits = state;
    bits = Math.imul(bits ^ (bits >>> 16), 0x85ebca6b);
    bits = Math.imul(bits ^ (bits >>> 13), 0xc2b2ae35);
    return (((bits ^ (bits >>> 16)) >>> 0) + 0.5) / range;
  };
};
