/**
 * Randomness of the simulated shed: a seed, a name and a number give a draw, in any order, the same on every machine.
 *
 * The mixing step is the 32-bit finaliser of MurmurHash3 (Austin Appleby, public domain): every input bit moves every output bit.
 * Good enough for weather and noise; nothing here may guard a secret.
 */
export const mix = (value: number): number => {
  let bits = value >>> 0;
  bits = Math.imul(bits ^ (bits >>> 16), 0x85ebca6b);
  bits = Math.imul(bits ^ (bits >>> 13), 0xc2b2ae35);
  return (bits ^ (bits >>> 16)) >>> 0;
};

export interface Draws {
  /** Evenly spread over (0, 1). */
  readonly uniform: (index: number) => number;
  /** Normally spread, mean 0, standard deviation 1 (Box and Muller 1958). */
  readonly gaussian: (index: number) => number;
}

const range = 2 ** 32;

export const draws = (seed: number, name: string): Draws => {
  let key = mix(seed);
  for (let i = 0; i < name.length; i++) key = mix(key ^ name.charCodeAt(i));
  // Epoch milliseconds need more than 32 bits: both halves are mixed in.
  const draw = (index: number, lane: number): number => (mix(mix(mix(key ^ lane) ^ Math.floor(index / range)) ^ (index % range)) + 0.5) / range;
  return {
    uniform: (index) => draw(index, 1),
    gaussian: (index) => Math.sqrt(-2 * Math.log(draw(index, 2))) * Math.cos(2 * Math.PI * draw(index, 3)),
  };
};
