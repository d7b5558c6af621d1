import type { Batch } from '../journal/shed.ts';
import { harvestYield } from '../season/yield.ts';
import { afterHarvestTexts, afterHarvestTitles, isAfterHarvest } from './after-harvest.ts';
import type { PouredBrine } from './brine.ts';
import type { TaskKind } from './schedules.ts';

/** What a task needs at hand: brine as last time, jars by the fruit there is. */
export interface TaskNeeds {
  readonly brineL?: number;
  readonly saltG?: number;
  readonly jars?: number;
}

/** The jar that amounts are told for (assumption); another size is a matter of proportion. */
const jarMl = 720;

export const needsOf = (kind: TaskKind, batches: readonly Pick<Batch, 'fruitKg' | 'cut'>[], brine: PouredBrine): TaskNeeds => {
  switch (kind) {
    case 'change-water':
      return { brineL: brine.brineL };
    case 'change-brine':
      return { brineL: brine.brineL, saltG: Math.round(brine.brineL * brine.saltGPerL) };
    case 'order-jars':
    case 'jar': {
      const yields = batches.map(({ fruitKg, cut }) => harvestYield({ fruitKg, pitted: cut === 'pitted', jarMl }));
      const jars = yields.reduce((sum, each) => sum + (each.ok ? each.value.jars : 0), 0);
      return jars > 0 ? { jars } : {};
    }
    default:
      return {};
  }
};

/** A task in a few words, as it is read from across the shed. */
export const taskTitles: Readonly<Record<TaskKind, string>> = {
  'settle-hold': 'On hold: no tasting',
  'calibrate-ph': 'Check the pH meter',
  'calibrate-temperature': 'Compare the thermometers',
  'change-brine': 'Change the brine',
  'change-water': 'Change the water',
  'top-up': 'Top up: fruit in the air',
  skim: 'Skim the film',
  stir: 'Stir from the bottom',
  look: 'Look: all under brine?',
  'measure-temperature': 'Measure the temperature',
  'measure-ph': 'Measure pH',
  'measure-salt': 'Measure salt',
  taste: 'Taste',
  'order-jars': 'Order jars and vinegar',
  jar: 'Fill the jars',
  'print-labels': 'Label the jars',
  'measure-jars': 'Measure the packed jars',
  rest: 'Let the jars rest',
  review: 'Review the record',
  ...afterHarvestTitles,
};

/** What a text tells beside drum and amounts. */
export interface TaskFacts {
  /** What the salt balance expects, where salt is to be measured. */
  readonly expectedSaltGPerL: number | null;
  /** What a lot is held for. */
  readonly held?: string;
  /** What the packed jars ask for next. */
  readonly nextJarPh?: string;
}

export const taskText = (kind: TaskKind, drum: string, needs: TaskNeeds, { expectedSaltGPerL, held = '', nextJarPh = '' }: TaskFacts): string => {
  if (isAfterHarvest(kind)) return afterHarvestTexts[kind];
  const litres = `${amount(needs.brineL ?? 0)} L`;
  const jars = needs.jars === undefined ? 'Jars' : `About ${needs.jars} jars of ${jarMl} mL`;
  switch (kind) {
    case 'calibrate-ph':
      return `Check the pH meter in fresh buffers before you measure ${drum}; once a week while pH is measured by hand.`;
    case 'calibrate-temperature':
      return `Compare the thermometers once this season, ${drum} first: all probes in one stirred bucket, then in melting ice.`;
    case 'change-water':
      return `Change the water in ${drum}: ${litres}. In plain water this is hygiene, not only speed.`;
    case 'change-brine':
      return `Change the brine in ${drum}: ${litres} with ${amount((needs.saltG ?? 0) / 1_000)} kg salt, as last time.`;
    case 'top-up':
      return `Fruit in ${drum} was seen in the air: take off what is dry, cover the rest with brine of the same strength, never with water.`;
    case 'skim':
      return `Skim the film from ${drum}, wipe rim, plate and weight, and keep the brine over the fruit. It comes back: look again in two days, and measure the pH.`;
    case 'stir':
      return `Stir ${drum} from the bottom: salt lies there before it is everywhere. Wait half an hour, then stir once more.`;
    case 'look':
      return `Nobody has had the lid off ${drum} for a week: press the fruit under, wipe rim and weight, skim. Top up with brine of the same strength, never with water.`;
    case 'measure-temperature':
      return `Measure the temperature of ${drum}, half depth, until the thermometer holds still. No probe watches it, so morning and evening somebody does.`;
    case 'measure-ph':
      return `Measure the pH of ${drum}, mid-depth, with a meter checked today.`;
    case 'measure-salt':
      return `Measure the salt of ${drum}: stir from the bottom, wait 30 minutes, mid-depth. About ${(expectedSaltGPerL ?? 0).toFixed(0)} g/L is expected; far from that, measure again.`;
    case 'taste':
      return `Taste ${drum}: five fruit from three depths, rinsed. Not if anything smells or looks wrong.`;
    case 'order-jars':
      return `May be sweet within three weeks: ${drum}. ${jars} with lids and some spare, and vinegar of a stated strength, take time to come.`;
    case 'jar':
      return `Fill jars from ${drum}, when its pH is known. ${jars}. The pH of the packed jars decides, not that of the brine.`;
    case 'settle-hold':
      return `${held.replace(/[.!?]+$/, '').replace(/^./, (first) => first.toUpperCase())}. Nobody tastes from ${drum} and no jar leaves. Find the cause, measure the pH, then release it or discard it.`;
    case 'measure-jars':
      return `Measure packed jars of the lot from ${drum}, with a meter checked today. ${nextJarPh}`;
    case 'print-labels':
      return `Label the jars from ${drum}, each with its lot code: a jar without one belongs to no record.`;
    case 'rest':
      return `The jars from ${drum} rest for two weeks until this day, so that salt and acid even out. No jar is opened for the table before.`;
    case 'review':
      return `The rest of the jars from ${drum} is over: look at every lid and read the record before any jar leaves.`;
  }
};

const amount = (value: number): string => String(Number(value.toFixed(value < 10 ? 1 : 0)));
