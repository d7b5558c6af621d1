import type { Cut } from '#domain/cure/batch.ts';

/** What to mind where a number can hurt somebody: the usual words, and never that something is safe. */
const localRules = 'A guide, not an approval: local rules and a process authority decide.';

const together = (...sentences: readonly (string | null)[]): string | null => {
  const said = sentences.filter((sentence) => sentence !== null);
  return said.length === 0 ? null : [...said, localRules].join(' ');
};

/** CXS 66-1981, natural olives: at least 6 % salt once brine and fruit have settled. */
export const leastSaltPercent = 6;

export const poured = (percentWw: number): string | null =>
  percentWw < leastSaltPercent ? weakBrine(percentWw)
    : together('This is the strength as poured. Fresh fruit takes its share of the salt and the brine settles lower: the published 6 % for natural olives (CXS 66-1981) counts after that.');

export const weakBrine = (percentWw: number): string | null => {
  if (percentWw >= leastSaltPercent) return null;
  const under = percentWw < 1 ? 'Water without salt holds back nothing' : 'Under 6 % salt, the published least for natural olives (CXS 66-1981), brine holds back little';
  return together(`${under}: change it daily, keep it cool and the fruit under, never seal it and do not store or jar in it.`);
};

/** Readings in brine may be off by 0.1 pH (assumption), so the published 4.3 is kept by 0.1. */
export const aboveJarPh = (ph: number): string | null => {
  if (ph <= 4.2) return null;
  if (ph <= 4.6) return together('Jars: not below pH 4.3 (CXS 66-1981), or too near to tell, because a reading in brine may be off by 0.1. Check the meter in a fresh buffer and add acid by a bench trial before anything is jarred.');
  return together('Above pH 4.6 acid is no barrier to Clostridium botulinum, and its toxin gives no sign that can be seen, smelled or tasted. Nothing is jarred or sealed at this pH; hold the lot if it stood sealed, and do not taste to find out.');
};

export const measurePack = 'Whatever a dose or a recipe says, the pH of the packed jar is measured, on drained and blended fruit and brine a day or more after packing: at most 4.3 (CXS 66-1981).';

export const acidDosing = (acidPercent: number): string | null =>
  together(
    'A dose found on brine alone is too small, because the fruit takes up acid too: put fruit and brine in the bench jar as in the drum.',
    measurePack,
    acidPercent > 25 ? 'Strong acid burns: goggles and gloves, and always acid into brine, never brine into acid.' : null,
  );

/** Whatever else a recipe deserves, its pH is measured. */
export const recipe = (sentences: readonly string[]): string | null => together(...sentences, `The pH of a recipe is unknown. ${measurePack}`);

export const jars = (): string | null => together(measurePack, 'Above it jars are not for the shelf. A cold jar cracks when hot brine is poured into it.');

export const heat = (): string | null =>
  together('Only for a pack that is already acid, pH at most 4.3: this heat does not kill the spores of Clostridium botulinum and does not replace acid. The temperature is that of the coldest point of the jar. Hot brine scalds, and cracks cold glass.');

export const bitternessIsNotSafety = (cut?: Cut): string | null =>
  together(
    'Bitterness and safety are separate: olives that have become sweet may still be unfit. Only measured pH, salt and temperature say anything about safety.',
    cut === undefined || cut === 'whole' ? null : 'Leached fruit has little acid of its own: plan the acid before it is jarred.',
  );

export const notAboutMicrobes = (): string | null => together('This number says nothing about the growth of microbes in olives, and a low one does not make a lot safe.');

export const warmDrum = (highestC: number): string | null =>
  highestC > 25 ? together('Above 25 °C brined fruit spoils more easily, and fruit in water or weak brine has no barrier at all: shade and cool the drum, and measure pH and salt.') : null;

export const doubtfulElectrode = (isGood: boolean): string | null => (isGood ? null : together('Until the electrode is cleaned and passes in fresh buffers, pH is unknown: treat it as above 4.6.'));

export const noTemperature = (): string | null => together('The temperature is unknown while the sensor is faulty: measure by hand, and do not take the last good number for the present one.');
