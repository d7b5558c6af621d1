import { changeSaltBrine, dayMs, fleshWaterL, percentWwFrom, saltUptakePerDay, settledSalt, takeUpSalt, type BatchDetail, type SaltState } from '#contract';

/**
 * Where a new brine settles in a drum whose fruit has already taken salt: the story of the batch walked through, each brine shared with
 * the flesh for as long as it stood. The same two-compartment balance as the rest of the program; an estimate, and a measurement beats it.
 */
export interface Settles {
  readonly percent: number;
  /** Between the juiciest and the driest fruit of the published ranges. */
  readonly lowPercent: number;
  readonly highPercent: number;
  /** Days until nineteen twentieths of the way are done. */
  readonly inDays: number;
}

export interface NewBrine {
  readonly brineL: number;
  readonly saltGPerL: number;
  readonly fraction: number;
}

type Told = Pick<BatchDetail, 'startedAt' | 'cut' | 'fruitKg' | 'brineL' | 'saltGPerL' | 'entries'> & { readonly trace?: Pick<BatchDetail['trace'], 'brineShare'> };

/** Published ranges over varieties of table olive; the middle where a grower has not weighed their own. */
const fruits = { middle: {}, juicy: { stoneFraction: 0.12, fleshMoisture: 0.75 }, dry: { stoneFraction: 0.25, fleshMoisture: 0.55 } } as const;
const roomC = 18;
const nearlyAll = Math.log(20);

const numberIn = (body: Readonly<Record<string, unknown>>, name: string): number | null => (typeof body[name] === 'number' ? body[name] : null);

const scaled = (amount: number | null, share: number): number | null => (amount === null ? null : amount * share);

const saltAt = (batch: Told, waterL: number, temperatureC: number, now: number): SaltState & { readonly brineL: number } => {
  let state: SaltState = { fleshGPerL: 0, brineGPerL: batch.saltGPerL };
  let brineL = batch.brineL;
  let at = Date.parse(batch.startedAt);
  const rest = (until: number): void => {
    const days = Math.max(0, until - at) / dayMs;
    state = takeUpSalt(state, saltUptakePerDay(batch.cut, temperatureC) * days, brineL / waterL);
    at = Math.max(at, until);
  };
  const acts = batch.entries.filter(({ standing, at: when }) => standing && Date.parse(when) <= now).toSorted((one, other) => Date.parse(one.at) - Date.parse(other.at));
  // What was poured before a part was split off was poured for both: this lot has its share of it.
  const split = acts.findLastIndex(({ kind }) => kind === 'split');
  for (const [index, { kind, at: when, body }] of acts.entries()) {
    const share = index < split ? (batch.trace?.brineShare ?? 1) : 1;
    const litres = scaled(numberIn(body, 'brineL'), share);
    const strength = numberIn(body, 'saltGPerL');
    const saltG = scaled(numberIn(body, 'saltG'), share);
    if (kind === 'brine-changed' && litres !== null && strength !== null) {
      rest(Date.parse(when));
      const fraction = numberIn(body, 'fraction') ?? 1;
      state = changeSaltBrine(state, strength, fraction);
      if (fraction === 1) brineL = litres;
    } else if (kind === 'brine-topped-up' && litres !== null && strength !== null) {
      rest(Date.parse(when));
      state = changeSaltBrine(state, strength, litres / (brineL + litres));
    } else if (kind === 'salt-added' && saltG !== null) {
      rest(Date.parse(when));
      state = { ...state, brineGPerL: state.brineGPerL + saltG / brineL };
    }
  }
  rest(now);
  return { ...state, brineL };
};

/** Null where nothing can be said: no fruit, no brine, or stronger than the density equation is known for. */
export const settlesAt = (batch: Told, brine: NewBrine, now: number, temperatureC = roomC): Settles | null => {
  if (brine.brineL <= 0 || batch.fruitKg <= 0) return null;
  const one = (fruit: object): { readonly percent: number; readonly ratio: number } | null => {
    const waterL = fleshWaterL({ fruitKg: batch.fruitKg, ...fruit });
    const before = saltAt(batch, waterL, temperatureC, now);
    const ratio = (brine.fraction === 1 ? brine.brineL : before.brineL) / waterL;
    const percent = percentWwFrom('g-per-l', settledSalt(changeSaltBrine(before, brine.saltGPerL, brine.fraction), ratio), temperatureC);
    return percent.ok ? { percent: percent.value, ratio } : null;
  };
  const [middle, juicy, dry] = [one(fruits.middle), one(fruits.juicy), one(fruits.dry)];
  if (middle === null || juicy === null || dry === null) return null;
  const ends = [middle.percent, juicy.percent, dry.percent];
  return { percent: middle.percent, lowPercent: Math.min(...ends), highPercent: Math.max(...ends), inDays: nearlyAll / (saltUptakePerDay(batch.cut, temperatureC) * (1 + 1 / middle.ratio)) };
};

/** What the brine in the drum holds about now, in g/L; for what is added to it. */
export const saltNow = (batch: Told, now: number, temperatureC = roomC): { readonly brineL: number; readonly saltGPerL: number } => {
  const { brineGPerL, brineL } = saltAt(batch, fleshWaterL({ fruitKg: batch.fruitKg }), temperatureC, now);
  return { brineL, saltGPerL: brineGPerL };
};
