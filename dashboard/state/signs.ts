import { opensHold, signOf, signs, type Sign } from '#contract';

/** Signs as they are chosen by wet hands: the few that are met most with a picture, the others by where they are met. */
export const allWell = 'all-well';

const common: readonly string[] = ['film', 'mould', 'bubbles', 'foam', 'soft', 'shrivelled', 'putrid', 'butyric'];

export const commonSigns: readonly Sign[] = common.flatMap((id) => signOf(id) ?? []);

/** What an instrument says is written as measured, not as seen. */
const places = { surface: 'On top', brine: 'In the brine', fruit: 'The fruit', smell: 'A smell', jar: 'In a jar' } as const satisfies Partial<Record<Sign['place'], string>>;

export const signPlaces: readonly { readonly title: string; readonly signs: readonly Sign[] }[] = Object.entries(places).map(([place, title]) => ({ title, signs: signs.filter((sign) => sign.place === place) }));

const names: Readonly<Record<string, string>> = { [allWell]: 'all well', film: 'flat film', putrid: 'rotten smell', butyric: 'butter, vomit', 'bad-egg': 'bad egg', soft: 'soft fruit', shrivelled: 'wrinkled', 'late-float': 'floats late', 'early-float': 'floats early' };

/** A sign in two words; what people wrote in their own words stays as it is. */
export const signName = (observed: string): string => names[observed] ?? (signOf(observed) === null ? observed : observed.replaceAll('-', ' '));

export const holdsLot = (sign: Pick<Sign, 'severity' | 'atWorst'>): boolean => opensHold(sign);

/** What follows from an observed act; null where it asks for nothing. */
export const answerTo = (observed: string): Sign | null => signOf(observed);

export const holdAdvice = 'Hold the lot: nothing leaves it and nobody tastes it until a person who answers for it releases it. Measure pH and salt today; an unknown pH counts as above 4.6.';
