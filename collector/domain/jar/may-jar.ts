import type { PackLimit } from './pack-limits.ts';
import { acidFood, packLimitInForce } from './pack-limits.ts';

export interface JarPlan {
  /** pH of the brine (or of blended fruit) with its uncertainty; null: not known. */
  readonly ph: { readonly value: number; readonly uncertainty: number } | null;
  /** What acid goes into the jars, in the grower's words; blank or "none" is no plan. */
  readonly acid?: string | undefined;
  /** The temperature the jars will be kept at, when they are to be kept cold. */
  readonly coldC?: number | undefined;
  readonly ingredients?: readonly string[] | undefined;
  /** Limits of one's own or of the local office; only a stricter one counts. */
  readonly ownLimits?: readonly PackLimit[] | undefined;
}

export type MayJarCode = 'ph-above-limit' | 'ph-unknown' | 'cold-plan-too-warm' | 'cold-plan-needs-acid';

/** `opensHold`: the jars may be filled but not leave: their own pH has to show that the plan worked. */
export type MayJar =
  | { readonly may: true; readonly rule: PackLimit; readonly opensHold: boolean; readonly text: string }
  | { readonly may: false; readonly code: MayJarCode; readonly rule: PackLimit; readonly text: string; readonly instead: readonly JarRemedy[] };

/** What a person may do instead of writing the act. */
export const jarRemedies = ['measure-ph', 'plan-acid', 'plan-cold', 'record-hold'] as const;
export type JarRemedy = (typeof jarRemedies)[number];

/** The warmest a cold pack may be kept (Graham et al. 1997: toxin within two to three weeks at 5 °C and pH 5; colder is slower). */
export const warmestColdC = 5;

/**
 * Whether jarring may be written now. An unknown pH counts as above the limit; a known one is judged with its uncertainty.
 *
 * Inside the limit it may. Above it, acid or a cold plan must be named, and then the jars are on hold until their own pH is known.
 * A cold plan counts at 5 °C or less, and not with garlic, stuffing or oil, which raise pH or shut out air.
 *
 * Source: limits in `pack-limits.ts`. Leached fruit has little acid of its own (21 CFR 114.3 calls it low-acid above 4.6), so what is not
 * known cannot be sealed on trust. It is a block on writing, not on the world: jars that were filled all the same are written with a hold.
 */
export const mayJar = ({ ph, acid, coldC, ingredients = [], ownLimits = [] }: JarPlan): MayJar => {
  const rule = packLimitInForce('shelf', ownLimits);
  const judged = ph !== null && Number.isFinite(ph.value) && Number.isFinite(ph.uncertainty) ? ph.value + Math.abs(ph.uncertainty) : null;
  const named = `limit ${rule.ph.toFixed(1)} (${rule.source})`;
  if (judged !== null && judged <= rule.ph) return { may: true, rule, opensHold: false, text: `Brine inside the ${named}. ${afterwards}` };
  const reading = judged === null || ph === null ? 'pH unknown, which counts as above' : `pH ${ph.value.toFixed(2)} ± ${Math.abs(ph.uncertainty).toFixed(2)} is not inside`;
  if (isNamed(acid)) return { may: true, rule, opensHold: true, text: `${reading} the ${named}; acid is planned, and the lot is on hold until the packed jars are inside. ${afterwards}` };
  if (coldC === undefined) {
    return {
      may: false, code: judged === null ? 'ph-unknown' : 'ph-above-limit', rule, instead: ['measure-ph', 'plan-acid', 'plan-cold', 'record-hold'],
      text: `${reading} the ${named}, and neither acid nor a cold plan is given. Measure the pH, plan acid by a bench trial, or record a hold.`,
    };
  }
  if (!(coldC <= warmestColdC)) {
    return { may: false, code: 'cold-plan-too-warm', rule: acidFood, instead: ['plan-acid', 'record-hold'], text: `${reading} the ${named}, and cold means ${warmestColdC} °C or less, not ${coldC} °C.` };
  }
  const risky = ingredients.find((ingredient) => /garlic|stuffed|\boil\b/i.test(ingredient));
  if (risky !== undefined) {
    return { may: false, code: 'cold-plan-needs-acid', rule, instead: ['plan-acid', 'record-hold'], text: `${reading} the ${named}: with ${risky} cold alone is not enough, whatever the temperature.` };
  }
  return {
    may: true, rule: packLimitInForce('cold', ownLimits), opensHold: true,
    text: `${reading} the ${named}; kept at ${coldC} °C for a short time, and on hold until the packed jars are at or below pH ${acidFood.ph} (${acidFood.source}). Cold slows, it does not stop. ${afterwards}`,
  };
};

const afterwards = 'The pH of the packed jars decides, not that of the brine. A guide, no approval: local rules and a process authority decide.';

/** Words in the field for acid are a plan, unless they say that there is none. */
const isNamed = (acid = ''): boolean => !/^[\W0]*$/.test(acid) && !/^\W*(?:no|not|none|nil|nothing|without|n\/a)\b/i.test(acid);
