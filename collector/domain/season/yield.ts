import { brineStrength } from '../brine/bases.ts';
import { defaultStoneFraction } from '../cure/leaching-defaults.ts';
import { bulkDensityKgPerL } from '../jar/brine-displacement.ts';
import { cutPackingKgPerL, jarFill, wholePackingKgPerL } from '../jar/jar-fill.ts';
import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import type { OutsideValidRange, ValidRange } from '../valid-range.ts';
import { findOutside, outsideValidRange } from '../valid-range.ts';

export interface Harvest {
  /** Weighed fruit, or else the buckets it fills. */
  readonly fruitKg?: number | undefined;
  readonly volumeL?: number | undefined;
  readonly cullFraction?: number | undefined;
  readonly pitted?: boolean | undefined;
  readonly stoneFraction?: number | undefined;
  /** Salt and water taken up (+) or shrivel (-), as a share. */
  readonly weightChange?: number | undefined;
  readonly jarMl: number;
  readonly packingKgPerL?: number | undefined;
  readonly brinePercentWw?: number | undefined;
  /** Brine spilled, drained and left in the pan. */
  readonly brineLoss?: number | undefined;
}

export interface Yield {
  readonly fruitKg: number;
  readonly curedKg: number;
  readonly jars: number;
  readonly brineL: number;
  readonly saltG: number;
  /** The fields that were not given. */
  readonly assumed: readonly string[];
}

/** Assumptions a grower should replace with their own; the bulk density is published (0.46 to 0.65 kg/L). */
export const yieldDefaults = {
  cullFraction: 0.05, pitted: false, stoneFraction: defaultStoneFraction, weightChange: 0, brinePercentWw: 8, brineLoss: 0.1,
} as const;

export const yieldRanges = {
  fruitKg: { low: 0.01, high: 1_000_000, unit: 'kg' },
  volumeL: { low: 0.01, high: 2_000_000, unit: 'L' },
  cullFraction: { low: 0, high: 0.99, unit: '' },
  stoneFraction: { low: 0.05, high: 0.5, unit: '' },
  weightChange: { low: -0.3, high: 0.3, unit: '' },
  brinePercentWw: { low: 0, high: 26, unit: '% w/w' },
  brineLoss: { low: 0, high: 1, unit: '' },
} as const satisfies Record<string, ValidRange>;

/**
 * From the pick to the shelf: cured fruit, whole jars, and the brine and salt to fill them.
 *
 * Cured = fruit × (1 - cull) × (1 - stone, if pitted) × (1 + weight change); jars = ⌊cured / fruit per jar⌋;
 * brine = jars × brine per jar × (1 + loss); salt = brine × g/L at 20 °C. Fruit from buckets: L × 0.60 kg/L.
 *
 * Source: mass balance; bulk density Ozturk 2009; other defaults are assumptions (`yieldDefaults`). Fruit broken in pitting is a cull.
 * Units: kg, L, mL, g. Valid range: `yieldRanges`, jars by `jarFill`.
 * Example: four 20 L buckets, 5 % culls, 720 mL jars: 45.6 kg, 115 jars. 28.6 kg less 3 %: 70 jars, 20.6 L of brine, 1.74 kg of salt.
 */
export const harvestYield = (harvest: Harvest): Result<Yield, OutsideValidRange> => {
  const { cullFraction, pitted, stoneFraction, weightChange, brinePercentWw, brineLoss } = { ...yieldDefaults, ...given(harvest) };
  const packingKgPerL = harvest.packingKgPerL ?? (pitted ? cutPackingKgPerL : wholePackingKgPerL);
  const amount: Partial<Record<'fruitKg' | 'volumeL', number>> = given({ fruitKg: harvest.fruitKg, volumeL: harvest.volumeL });
  if (amount.fruitKg === undefined && amount.volumeL === undefined) return outsideValidRange('fruitKg', 'fruitKg or volumeL must be given');
  const outside = findOutside({ ...amount, cullFraction, stoneFraction, weightChange, brinePercentWw, brineLoss } as Record<keyof typeof yieldRanges, number>, yieldRanges);
  if (outside !== null) return outside;
  const jar = jarFill(harvest.jarMl, packingKgPerL);
  if (!jar.ok) return jar;
  const strength = brineStrength(brinePercentWw, 20);
  if (!strength.ok) return strength;

  const fruitKg = amount.fruitKg ?? (amount.volumeL ?? 0) * bulkDensityKgPerL;
  const curedKg = fruitKg * (1 - cullFraction) * (pitted ? 1 - stoneFraction : 1) * (1 + weightChange);
  // A jar short of a billionth of its fruit is a rounding of the computer, not a jar short.
  const jars = Math.floor(curedKg / jar.value.fruitKg + 1e-9);
  const brineL = ((jars * jar.value.brineMl) / 1_000) * (1 + brineLoss);
  return ok({ fruitKg, curedKg, jars, brineL, saltG: brineL * strength.value.gPerL, assumed: assumedOf(harvest, pitted) });
};

const given = <Fields extends object>(fields: Fields): { [Field in keyof Fields]?: Exclude<Fields[Field], undefined> } =>
  Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined)) as { [Field in keyof Fields]?: Exclude<Fields[Field], undefined> };

const assumedOf = (harvest: Harvest, pitted: boolean): string[] => {
  const names: (keyof Harvest)[] = ['cullFraction', 'pitted', 'weightChange', 'packingKgPerL', 'brinePercentWw', 'brineLoss'];
  if (pitted) names.push('stoneFraction');
  const missing: string[] = names.filter((name) => harvest[name] === undefined);
  return harvest.fruitKg === undefined ? [...missing, 'bulkDensityKgPerL'] : missing;
};
