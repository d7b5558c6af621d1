import { benchDays, benchPlan, benchResult, defaultTargetPh, type BenchPlan, type BenchReading } from '#contract';

/** A bench trial as a person fills it in over a week: kept as text, so that half a number stays half a number. */
export interface BenchNotes {
  readonly fruitG: string;
  readonly brineG: string;
  readonly brinePercent: string;
  readonly vinegarPercent: string;
  readonly largestMl: string;
  readonly targetPh: string;
  readonly batchKg: string;
  /** pH by jar and day: `3/7` is jar 3 on day 7. */
  readonly ph: Readonly<Record<string, string>>;
}

export const newNotes: BenchNotes = { fruitG: '200', brineG: '135', brinePercent: '8', vinegarPercent: '5', largestMl: '28', targetPh: String(defaultTargetPh), batchKg: '', ph: {} };

const place = 'brineward-bench-trial';

/** What was noted before on this device; anything that is not a bench trial is left aside. */
export const readNotes = (storage: Pick<Storage, 'getItem'> | null): BenchNotes => {
  try {
    const kept: unknown = JSON.parse(storage?.getItem(place) ?? 'null');
    if (typeof kept !== 'object' || kept === null) return newNotes;
    const found = kept as Readonly<Record<string, unknown>>;
    const texts = Object.fromEntries(Object.entries(newNotes).map(([name, usual]) => [name, typeof found[name] === 'string' ? found[name] : usual]));
    const ph = typeof found['ph'] === 'object' && found['ph'] !== null ? Object.fromEntries(Object.entries(found['ph']).filter((pair): pair is [string, string] => typeof pair[1] === 'string')) : {};
    return { ...newNotes, ...texts, ph };
  } catch {
    return newNotes;
  }
};

/** False where this browser keeps nothing. */
export const keepNotes = (storage: Pick<Storage, 'setItem'> | null, notes: BenchNotes): boolean => {
  try {
    storage?.setItem(place, JSON.stringify(notes));
    return storage !== null;
  } catch {
    return false;
  }
};

export interface BenchShown {
  readonly plan: BenchPlan | null;
  readonly planProblem: string | null;
  readonly result: string | null;
  /** Why there is no dose yet, or none at all. */
  readonly noResult: string | null;
  readonly stillMoving: number | null;
}

const numberOf = (text: string): number => (/^\s*\d+(?:[.,]\d*)?\s*$/.test(text) ? Number(text.replace(',', '.')) : Number.NaN);

export const readingsOf = ({ ph }: BenchNotes): readonly BenchReading[] =>
  Object.entries(ph).flatMap(([key, text]) => {
    const [jar, day] = key.split('/').map(Number);
    const value = numberOf(text);
    return jar === undefined || day === undefined || Number.isNaN(value) ? [] : [{ jar, day, ph: value }];
  });

/** Worked out anew with every key: nothing is extrapolated, and a refusal says why. */
export const benchShown = (notes: BenchNotes): BenchShown => {
  const plan = benchPlan({ fruitG: numberOf(notes.fruitG), brineG: numberOf(notes.brineG), brinePercentWw: numberOf(notes.brinePercent), vinegarPercent: numberOf(notes.vinegarPercent), largestMl: numberOf(notes.largestMl) });
  if (!plan.ok) return { plan: null, planProblem: plan.error.message, result: null, noResult: null, stillMoving: null };
  const batchKg = numberOf(notes.batchKg);
  if (readingsOf(notes).length > 0 && Number.isNaN(batchKg)) return { plan: plan.value, planProblem: null, result: null, noResult: 'Write how much fruit and brine the batch holds, in kg.', stillMoving: null };
  const result = benchResult(plan.value, readingsOf(notes), batchKg, numberOf(notes.targetPh));
  return { plan: plan.value, planProblem: null, result: result.ok ? result.value.text : null, noResult: result.ok ? null : result.error.message, stillMoving: result.ok ? result.value.stillMoving : null };
};

export const benchTrialDays = benchDays;
