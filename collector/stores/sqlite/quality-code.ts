import { qualities, type Quality } from '#domain/reading/reading.ts';

/**
 * How a quality is written in the database: its place in the list of qualities. The numbers are in files that outlive the program,
 * so the list is only ever added to at its end (a test holds the numbers given so far).
 */
export const qualityCode = Object.fromEntries(qualities.map((quality, code) => [quality, code])) as Readonly<Record<Quality, number>>;

export const qualityOfCode = (code: number): Quality => {
  const quality = qualities[code];
  if (quality === undefined) throw new RangeError(`no quality has the code ${code}`);
  return quality;
};
