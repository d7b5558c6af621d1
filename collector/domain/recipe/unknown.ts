import type { SaltKind } from '../brine/salt-kind.ts';
import { gramsPerCup, saltKinds } from '../brine/salt-kind.ts';
import { usGallonL } from '../units/kitchen.ts';
import type { Span } from './span.ts';
import { exactly, hullOf } from './span.ts';

/** Measures whose size a recipe leaves open. */
export const measureNames = ['cup', 'tablespoon', 'teaspoon', 'gallon', 'fluid ounce'] as const;
export type MeasureName = (typeof measureNames)[number];

/** Where the words of a recipe say which country's measures they are. */
export type MeasureSystem = 'us' | 'imperial' | 'metric';

const usCupL = usGallonL / 16;
const imperialGallonL = 4.54609;

/**
 * Sizes in litres. US measures are exact (NIST Handbook 44); a metric cup is 250 mL, an Australian tablespoon 20 mL, an imperial gallon 4.54609 L
 * (the metric and imperial ones from memory). A recipe that names one system uses it throughout. A cup of half an imperial pint is meant only
 * where a recipe names it; otherwise a cup is the US or the metric one.
 */
const sizes: Readonly<Record<MeasureName, Readonly<Record<MeasureSystem, number>>>> = {
  cup: { us: usCupL, imperial: imperialGallonL / 16, metric: 0.25 },
  tablespoon: { us: usCupL / 16, imperial: 0.015, metric: 0.02 },
  teaspoon: { us: usCupL / 48, imperial: 0.005, metric: 0.005 },
  gallon: { us: usGallonL, imperial: imperialGallonL, metric: imperialGallonL },
  'fluid ounce': { us: usGallonL / 128, imperial: imperialGallonL / 160, metric: imperialGallonL / 160 },
};

export const measureSpan = (name: MeasureName, system: MeasureSystem | null): Span => {
  if (system !== null) return exactly(sizes[name][system]);
  const { us, imperial, metric } = sizes[name];
  return hullOf(name === 'cup' ? [us, metric] : [us, imperial, metric]);
};

/** A named kind of salt, or the kinds that a vague word leaves open. */
export type SaltName = SaltKind | 'any' | 'kosher' | 'coarse';

const kindsOf = (name: SaltName): readonly SaltKind[] => {
  switch (name) {
    case 'any':
      return saltKinds;
    case 'kosher':
      return ['coarse-rolled-kosher', 'light-flake-kosher'];
    case 'coarse':
      return ['coarse-rolled-kosher', 'coarse-sea-salt'];
    default:
      return [name];
  }
};

/** Kilograms in a level litre of salt: 0.554 to 1.276 from the lightest flake to the densest pickling salt, narrower where the kind is named. */
export const saltDensity = (name: SaltName): Span => {
  const kinds = kindsOf(name).map((kind) => gramsPerCup[kind]);
  return { low: Math.min(...kinds.map(({ low }) => low)) / 1_000 / usCupL, high: Math.max(...kinds.map(({ high }) => high)) / 1_000 / usCupL };
};

/**
 * What no recipe says. Household vinegar has 4 to 6 g acetic acid per 100 mL (4 is the legal least in the US, 5 the usual); stone and water of the
 * fruit are published ranges for varieties; a drum or jar takes 0.7 to 1.0 L of brine per kg of fruit (bed porosity 42 to 44 %, Ozturk 2009, and
 * a cover above it); fruit heaps at 0.46 to 0.65 kg/L.
 */
export const openSpans = {
  vinegarPercent: { low: 4, high: 6 },
  stoneFraction: { low: 0.12, high: 0.25 },
  fleshMoisture: { low: 0.55, high: 0.75 },
  brineLPerKg: { low: 0.7, high: 1 },
  bulkKgPerL: { low: 0.46, high: 0.65 },
  /** 0: parts by weight, 1: by volume. */
  partsByVolume: { low: 0, high: 1 },
  /** 0: the litres are of water, 1: of finished brine. */
  litresOfBrine: { low: 0, high: 1 },
  /** 0: per cent are grams per 100 g of water, 1: grams per 100 g of brine (by volume lies between). */
  percentOfBrine: { low: 0, high: 1 },
} as const satisfies Record<string, Span>;
