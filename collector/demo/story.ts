import type { Cut, CureStyle, Maturity } from '#domain/cure/batch.ts';
import type { MixedAcid } from '#domain/journal/entry.ts';
import type { Slug } from '#domain/reading/reading.ts';

/**
 * The story of the demo shed as data: an invented place, invented numbers, nobody's account.
 * Fourteen trees: Picual 1 to 6, Leccino 7 to 10, Frantoio 11 to 14. Days are counted back from today, so that the demo is always fresh.
 */
export const demoSite = { slug: 'saltbush-terrace', name: 'Saltbush Terrace' } as const;

/** A day so many days before today, at a time of the shed's own clock. */
export interface Moment {
  readonly daysAgo: number;
  readonly clock: string;
}

export interface DrumPlan {
  readonly id: Slug;
  readonly name: string;
  readonly volumeL: number;
  /** How much warmer or cooler than the shed air its corner is, °C. */
  readonly cornerC: number;
}

export const demoDrums = [
  { id: 'barrel-1', name: 'Barrel 1', volumeL: 60, cornerC: 0.4 },
  { id: 'barrel-2', name: 'Barrel 2', volumeL: 60, cornerC: 0.2 },
  { id: 'barrel-3', name: 'Barrel 3', volumeL: 60, cornerC: 1.2 },
  { id: 'barrel-4', name: 'Barrel 4', volumeL: 60, cornerC: 0.6 },
  { id: 'barrel-5', name: 'Barrel 5', volumeL: 60, cornerC: -0.3 },
  { id: 'crock', name: 'Crock', volumeL: 20, cornerC: -4.4 },
] as const satisfies readonly DrumPlan[];

export interface ChangePlan extends Moment {
  readonly saltGPerL: number;
}

export interface BatchPlan {
  readonly drum: Slug;
  /** The probe that watches it. */
  readonly probe: Slug;
  readonly variety: string;
  readonly trees: string;
  readonly cut: Cut;
  readonly style: CureStyle;
  readonly maturity: Maturity;
  readonly picked: Moment;
  readonly started: Moment;
  readonly fruitKg: number;
  readonly brineL: number;
  readonly saltGPerL: number;
  readonly acid?: MixedAcid;
  readonly changes: readonly ChangePlan[];
  readonly tastings: readonly (Moment & { readonly note?: string })[];
  /** Salt measured by hand, mostly two mornings after a change: near what the balance of salt gives, as a refractometer reads. */
  readonly saltChecks?: readonly (Moment & { readonly gPerL: number })[];
}

/** The warm one, the silent one, the fermenting one and the one in jars, for whoever looks for them. */
export const roles = { jarred: 'barrel-1', forgotten: 'barrel-2', warm: 'barrel-3', fermenting: 'barrel-4', silent: 'barrel-5', soaking: 'crock' } as const;

export const jarring: Moment = { daysAgo: 13, clock: '10:30' };

export const demoBatches = [
  {
    drum: roles.jarred, probe: 'probe-1', variety: 'Leccino', trees: 'Leccino 7, 8', cut: 'pitted', style: 'changed-brine', maturity: 'green',
    picked: { daysAgo: 41, clock: '09:30' }, started: { daysAgo: 41, clock: '16:30' }, fruitKg: 36, brineL: 24, saltGPerL: 80,
    changes: [
      { daysAgo: 36, clock: '08:10', saltGPerL: 80 },
      { daysAgo: 28, clock: '08:30', saltGPerL: 100 },
    ],
    tastings: [
      { daysAgo: 34, clock: '11:00' },
      { daysAgo: 28, clock: '08:05', note: 'before the change, mid-depth' },
      { daysAgo: 15, clock: '11:00', note: 'five from different depths, all alike' },
    ],
    saltChecks: [{ daysAgo: 26, clock: '08:20', gPerL: 86 }],
  },
  {
    drum: roles.forgotten, probe: 'probe-2', variety: 'Picual', trees: 'Picual 1, 2, 3', cut: 'slit', style: 'changed-brine', maturity: 'green',
    picked: { daysAgo: 36, clock: '08:40' }, started: { daysAgo: 36, clock: '17:10' }, fruitKg: 35, brineL: 25, saltGPerL: 70,
    changes: [
      { daysAgo: 34, clock: '08:00', saltGPerL: 70 },
      { daysAgo: 32, clock: '08:05', saltGPerL: 70 },
      { daysAgo: 29, clock: '08:15', saltGPerL: 80 },
      { daysAgo: 24, clock: '08:00', saltGPerL: 80 },
      { daysAgo: 17, clock: '08:20', saltGPerL: 90 },
    ],
    tastings: [
      { daysAgo: 24, clock: '07:45' },
      { daysAgo: 17, clock: '08:00' },
      { daysAgo: 4, clock: '11:30', note: 'hardly moved since the last tasting' },
    ],
    saltChecks: [{ daysAgo: 27, clock: '08:20', gPerL: 72 }, { daysAgo: 22, clock: '08:30', gPerL: 78 }, { daysAgo: 15, clock: '08:15', gPerL: 84 }],
  },
  {
    drum: roles.warm, probe: 'probe-3', variety: 'Frantoio', trees: 'Frantoio 11, 12, 13', cut: 'pitted', style: 'changed-brine', maturity: 'green',
    picked: { daysAgo: 15, clock: '08:30' }, started: { daysAgo: 15, clock: '15:50' }, fruitKg: 36, brineL: 23, saltGPerL: 80,
    changes: [
      { daysAgo: 12, clock: '08:40', saltGPerL: 80 },
      { daysAgo: 8, clock: '08:00', saltGPerL: 90 },
      { daysAgo: 3, clock: '08:10', saltGPerL: 100 },
    ],
    tastings: [
      { daysAgo: 9, clock: '11:00' },
      { daysAgo: 5, clock: '11:15' },
      { daysAgo: 2, clock: '11:05', note: 'nearly there' },
    ],
    saltChecks: [{ daysAgo: 6, clock: '08:40', gPerL: 79 }],
  },
  {
    drum: roles.fermenting, probe: 'probe-4', variety: 'Picual', trees: 'Picual 4, 5, 6', cut: 'whole', style: 'kept-brine', maturity: 'black',
    picked: { daysAgo: 26, clock: '09:00' }, started: { daysAgo: 26, clock: '15:20' }, fruitKg: 22, brineL: 35, saltGPerL: 75,
    acid: { acid: 'acetic', ml: 520, strengthPercent: 5 },
    changes: [],
    tastings: [
      { daysAgo: 12, clock: '11:15' },
      { daysAgo: 5, clock: '11:20', note: 'as expected, whole fruit takes months' },
    ],
  },
  {
    drum: roles.silent, probe: 'probe-5', variety: 'Leccino', trees: 'Leccino 9, 10', cut: 'slit', style: 'changed-brine', maturity: 'turning',
    picked: { daysAgo: 15, clock: '12:30' }, started: { daysAgo: 14, clock: '16:40' }, fruitKg: 33, brineL: 25, saltGPerL: 70,
    changes: [
      { daysAgo: 12, clock: '08:00', saltGPerL: 70 },
      { daysAgo: 10, clock: '08:30', saltGPerL: 70 },
      { daysAgo: 7, clock: '08:10', saltGPerL: 80 },
      { daysAgo: 3, clock: '08:00', saltGPerL: 80 },
    ],
    tastings: [{ daysAgo: 3, clock: '07:50' }],
    saltChecks: [{ daysAgo: 5, clock: '08:20', gPerL: 74 }, { daysAgo: 1, clock: '08:10', gPerL: 76 }],
  },
  {
    drum: roles.soaking, probe: 'probe-1', variety: 'Frantoio', trees: 'Frantoio 14', cut: 'cracked', style: 'water-then-brine', maturity: 'green',
    picked: { daysAgo: 6, clock: '10:00' }, started: { daysAgo: 6, clock: '15:00' }, fruitKg: 9, brineL: 9, saltGPerL: 0,
    // Its water is changed once a day; see `soakChanges`.
    changes: [],
    tastings: [{ daysAgo: 1, clock: '11:40' }],
  },
] as const satisfies readonly BatchPlan[];

/** Salt stirred into the fermenting drum once the fruit had taken its share. */
export const saltAddition = { daysAgo: 18, clock: '09:10', saltG: 600 } as const;

/** How fast this grower's olives leach, against the published-range guess of the model: a little slower. */
export const growerFactor = 0.85;

/** Hours before now at which the probe in the silent drum was last heard. */
export const silentHours = 7.2;

/** One night the shed had no power: every probe is missing at once. */
export const powerCut = { from: { daysAgo: 9, clock: '01:20' }, hours: 3.4 } as const;
