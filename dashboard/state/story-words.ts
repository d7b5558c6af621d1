import type { Handling, StoryEntry } from '#contract';
import { inWords, showMass, showQuantity, showVolume, type UnitChoice } from '../format/units.ts';
import { signName } from './signs.ts';

/** An act in plain words: what was done, and with how much. Kinds this page does not know are still told by their name. */
export interface StoryWords {
  readonly title: string;
  readonly detail: string;
}

const numberIn = (body: StoryEntry['body'], name: string): number | null => {
  const value = body[name];
  return typeof value === 'number' ? value : null;
};

const textIn = (body: StoryEntry['body'], name: string): string => {
  const value = body[name];
  return typeof value === 'string' ? value : '';
};

const brineWords = (body: StoryEntry['body'], units: UnitChoice): string => {
  const litres = numberIn(body, 'brineL');
  const strength = numberIn(body, 'saltGPerL');
  const fraction = numberIn(body, 'fraction');
  return [
    litres === null ? '' : inWords(showVolume(litres, units)),
    strength === null ? '' : strength === 0 ? 'plain water' : `${inWords(showQuantity(strength, 'g/L', units))} as poured`,
    fraction === null || fraction === 1 ? '' : `${String(Math.round(fraction * 100))} % of the drum`,
  ]
    .filter((part) => part !== '')
    .join(', ');
};

const measuredUnits: Readonly<Record<string, string>> = { ph: 'pH', salinity: 'g/L', temperature: 'Cel' };

export const handlingWords = { stirred: 'stirred', vented: 'gas let out', 'pressed-under': 'pressed under', cooled: 'cooled with ice' } as const satisfies Record<Handling, string>;

const handlingTold: Readonly<Record<string, string>> = handlingWords;

const titles: Readonly<Record<string, string>> = {
  'brine-changed': 'Brine changed', 'brine-topped-up': 'Topped up', 'salt-added': 'Salt added', 'acid-added': 'Acid added', skimmed: 'Skimmed', rinsed: 'Rinsed', handled: 'Handled', tasted: 'Tasted', observed: 'Seen', measured: 'Measured', jarred: 'Jars filled', 'jar-ph': 'pH of a jar', hold: 'On hold', release: 'Released', distributed: 'Jars left', 'jars-noted': 'Jars', moved: 'Moved', split: 'Split', corrected: 'Taken back',
};

export const storyWords = ({ kind, body }: Pick<StoryEntry, 'kind' | 'body'>, units: UnitChoice): StoryWords => {
  const title = titles[kind] ?? kind.replaceAll('-', ' ');
  switch (kind) {
    case 'brine-changed':
    case 'brine-topped-up':
      return { title: numberIn(body, 'saltGPerL') === 0 && kind === 'brine-changed' ? 'Water changed' : title, detail: brineWords(body, units) };
    case 'salt-added':
      return { title, detail: inWords(showMass(numberIn(body, 'saltG') ?? 0, units)) };
    case 'acid-added':
      return { title, detail: `${String(numberIn(body, 'ml') ?? '')} mL ${textIn(body, 'acid')} acid, ${String(numberIn(body, 'strengthPercent') ?? '')} %` };
    case 'tasted':
      return { title, detail: `bitterness ${String(numberIn(body, 'bitterness') ?? '')} of 10` };
    case 'observed':
      return { title, detail: signName(textIn(body, 'sign')) };
    case 'handled':
      return { title, detail: [handlingTold[textIn(body, 'what')] ?? textIn(body, 'what'), numberIn(body, 'bottles') === null ? '' : `${String(numberIn(body, 'bottles'))} bottles`].filter((part) => part !== '').join(', ') };
    case 'measured': {
      const unit = measuredUnits[textIn(body, 'quantity')] ?? '';
      return { title, detail: `${unit === 'g/L' ? 'salt ' : ''}${inWords(showQuantity(numberIn(body, 'value') ?? 0, unit, units))}` };
    }
    case 'jarred':
      return { title, detail: [`${String(numberIn(body, 'jars') ?? '')} jars of ${String(numberIn(body, 'jarMl') ?? '')} mL`, textIn(body, 'acid'), numberIn(body, 'coldC') === null ? '' : `kept at ${String(numberIn(body, 'coldC'))} °C`].filter((part) => part !== '').join(', ') };
    case 'jar-ph':
      return { title, detail: [textIn(body, 'jar') === '' ? '' : `jar ${textIn(body, 'jar')}:`, inWords(showQuantity(numberIn(body, 'value') ?? 0, 'pH', units)), `by ${textIn(body, 'instrument')}`].filter((part) => part !== '').join(' ') };
    case 'moved':
      return { title, detail: `into ${textIn(body, 'drum')}` };
    case 'split':
      return { title, detail: `${inWords(showMass((numberIn(body, 'fruitKg') ?? 0) * 1_000, units))}${textIn(body, 'into') === '' ? '' : ` to lot ${textIn(body, 'into')}`}${body['drum'] === null ? ', for jars' : `, into ${textIn(body, 'drum')}`}` };
    case 'release':
      return { title, detail: [`by ${textIn(body, 'by')}`, textIn(body, 'exception') === '' ? '' : `with an exception: ${textIn(body, 'exception')}`].filter((part) => part !== '').join(', ') };
    case 'jars-noted':
      return { title, detail: `${String(numberIn(body, 'jars') ?? '')} ${textIn(body, 'what')}` };
    case 'distributed':
      return { title, detail: `${String(numberIn(body, 'jars') ?? '')} to ${textIn(body, 'to')}` };
    default:
      return { title, detail: textIn(body, 'reason') };
  }
};

export const noteOf = (body: StoryEntry['body']): string => textIn(body, 'note');

/** `user:owner` → owner. */
export const byWhom = (by: string): string => by.replace(/^user:/, '');
