import { percentWwFrom } from '../brine/bases.ts';
import { acidFood, codexNaturalOlives } from '../jar/pack-limits.ts';
import { defaultLimits } from '../rules/default-limits.ts';
import type { Span } from './span.ts';
import { spanText } from './span.ts';
import type { Told } from './told.ts';

/** `misses`: the recipe says nothing of what the rule asks for. Never a word that something is safe. */
export const ruleVerdicts = ['inside', 'outside', 'unknown', 'misses'] as const;
export type RuleVerdict = (typeof ruleVerdicts)[number];

export interface RuleFinding {
  readonly id: string;
  readonly rule: string;
  readonly verdict: RuleVerdict;
  readonly found: string;
  readonly source: string;
  /** Of a rule about salt: the least it asks for, in % w/w. */
  readonly leastPercentWw?: number;
}

/** What the rules ask of one brine. */
export interface JudgedBrine {
  readonly name: string;
  readonly stays: boolean;
  readonly settledPercentWw: Span | null;
  readonly aceticSettledPercent: Span | null;
  readonly plainWater: boolean;
}

const limitOf = (id: string): { readonly low: number | null; readonly source: string } => defaultLimits.find((limit) => limit.id === id) ?? { low: null, source: '' };

/** CXS 66-1981 asks for 6 % once brine and fruit have settled; read by weight, which is the stricter reading of it. */
export const keptPercent = 6;
const kept = limitOf('hold-salinity-low');
const danger = limitOf('ferment-salinity-danger');
const dangerWw = percentWwFrom('g-per-l', danger.low ?? 0, 20);
/** 50 g in a litre of brine, by weight. */
const dangerPercent = dangerWw.ok ? dangerWw.value : Number.NaN;

const atLeast = (span: Span | null, limit: number): RuleVerdict => {
  if (span === null) return 'unknown';
  if (span.low >= limit) return 'inside';
  return span.high < limit ? 'outside' : 'unknown';
};

const settledWords = (span: Span | null): string => (span === null ? 'not enough of it could be read' : `settles at ${spanText(span, 1, '%')}`);

const oilSource = 'guidance of extension services on low-acid food in oil';

/** Every rule that this recipe touches, with what was found; a rule about oil is not asked of a recipe without oil. */
export const rulesFor = (brines: readonly JudgedBrine[], told: Told): readonly RuleFinding[] => {
  const salted = brines.filter(({ plainWater }) => !plainWater);
  const findings: (RuleFinding | null)[] = [
    ...(salted.length > 0 ? salted.map((brine) => saltFinding(brine)) : [told.salt ? noStrength('unknown', 'salt is named and not measured') : noStrength('misses', 'no salt in the recipe')]),
    acidFinding(brines, told),
    { id: 'packed-ph', rule: codexNaturalOlives.rule, verdict: 'unknown', found: 'no recipe can tell: olives take up acid. Measure the packed jar', source: codexNaturalOlives.source },
    told.underOil ? { id: 'oil-layer', rule: 'no layer of oil over fruit that is not acid right through', verdict: told.acid ? 'unknown' : 'outside', found: told.acid ? 'oil is named: whether the fruit is acid right through is not known' : 'oil is named and no acid', source: oilSource } : null,
    told.underOil && told.garlic ? { id: 'garlic-in-oil', rule: 'no fresh garlic under oil', verdict: 'outside', found: 'garlic and oil are both named', source: oilSource } : null,
    waterFinding(brines, told),
    told.onShelf ? { id: 'shelf-time', rule: 'kept without cold only with the packed jar measured at or under pH 4.3', verdict: told.acid ? 'unknown' : 'outside', found: told.acid ? 'it is to keep without cold, and its pH is not known' : 'it is to keep for long or without cold, and has no acid', source: `${codexNaturalOlives.source}; ${acidFood.source}` }
      : told.cold ? { id: 'cold-time', rule: 'cold packs: 5 °C or less, pH at most 4.6, not for long', verdict: 'unknown', found: 'it is to stand cold, and its pH is not known', source: acidFood.source } : null,
  ];
  return findings.filter((finding) => finding !== null);
};

const saltFinding = ({ name, stays, settledPercentWw }: JudgedBrine): RuleFinding =>
  stays
    ? { id: 'kept-salt', rule: `${name}, where the fruit stays: at least ${String(keptPercent)} % salt once settled`, verdict: atLeast(settledPercentWw, keptPercent), found: settledWords(settledPercentWw), source: kept.source, leastPercentWw: keptPercent }
    : { id: 'cure-salt', rule: `${name}: at least ${dangerPercent.toFixed(1)} % salt once settled`, verdict: atLeast(settledPercentWw, dangerPercent), found: settledWords(settledPercentWw), source: danger.source, leastPercentWw: dangerPercent };

const noStrength = (verdict: RuleVerdict, found: string): RuleFinding => ({ id: 'kept-salt', rule: `at least ${String(keptPercent)} % salt once settled`, verdict, found, source: kept.source, leastPercentWw: keptPercent });

const acidFinding = (brines: readonly JudgedBrine[], { acid }: Told): RuleFinding => {
  const share = brines.findLast(({ aceticSettledPercent }) => aceticSettledPercent !== null && aceticSettledPercent.high > 0)?.aceticSettledPercent ?? null;
  const measured = share === null ? 'an acid is named; how much it does is not known' : `${spanText(share, 2, 'g acetic acid in 100 mL')} once settled; the pH that makes is not known`;
  return { id: 'acid', rule: acidFood.rule, verdict: acid ? 'unknown' : 'misses', found: acid ? measured : 'no acid in the recipe', source: acidFood.source };
};

const daily = limitOf('soak-change-late');

const waterFinding = (brines: readonly JudgedBrine[], { soaksInWater, changeEveryDays }: Told): RuleFinding | null => {
  if (!soaksInWater && !brines.some(({ plainWater }) => plainWater)) return null;
  const verdict = changeEveryDays === null ? 'unknown' : changeEveryDays <= 1 ? 'inside' : 'outside';
  const found = { unknown: 'fruit may stand in plain water; how often it is changed is not said', inside: 'changed daily; plain water still holds back nothing, keep it cool', outside: `changed every ${String(changeEveryDays)} days` }[verdict];
  return { id: 'plain-water', rule: 'plain water is changed at least once a day', verdict, found, source: daily.source };
};
