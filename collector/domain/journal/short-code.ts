/**
 * A digest that people can compare by reading it aloud: its first 80 bits in sixteen characters, in groups of four, such as `7K4D 2MQX P9RT 0V3C`.
 * Alphabet: Crockford's base 32 (crockford.com/base32.html), which leaves out I, L, O and U, so that nothing is mistaken for a digit.
 * Eighty bits: a second text with the same code takes some 2^80 tries to find, which is beyond a person who wants to change a record;
 * the whole digest stands beside it where a machine compares. Says "unchanged", nothing about whether it is true.
 * Worked example: the digest of the empty text, e3b0c44298fc1c149afb…, has the code `WERC 8GMR ZGE1 96QV`.
 */
const alphabet = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';
const bits = 80;

/** `digestHex`: at least 20 hexadecimal digits. */
export const shortCode = (digestHex: string): string => {
  if (!/^[0-9a-f]{20,}$/.test(digestHex)) throw new RangeError('a digest is written in at least 20 hexadecimal digits');
  let rest = BigInt(`0x${digestHex.slice(0, bits / 4)}`);
  const characters: string[] = [];
  for (let index = 0; index < bits / 5; index += 1) {
    characters.unshift(alphabet[Number(rest % 32n)] ?? '');
    rest /= 32n;
  }
  return (characters.join('').match(/.{4}/g) ?? []).join(' ');
};
