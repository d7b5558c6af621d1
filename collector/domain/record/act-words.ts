import type { StoryAct } from '../journal/shed.ts';

/** One act in plain words with its amounts; the body stands beside it in the record. */
export const actWords = ({ kind, body }: StoryAct): string => {
  const field = body as unknown as Readonly<Record<string, unknown>>;
  const told = fieldWords.flatMap(([name, words]) => (field[name] === undefined || field[name] === null ? [] : [words(plain(field[name]))]));
  return [kindWords[kind], ...told].join(', ').replace(', ', ': ');
};

const plain = (value: unknown): string => (Array.isArray(value) ? value.join(', ') : String(value));

const kindWords: Readonly<Record<StoryAct['kind'], string>> = {
  'brine-changed': 'Brine changed',
  'brine-topped-up': 'Brine topped up',
  'salt-added': 'Salt added',
  'acid-added': 'Acid added',
  skimmed: 'Skimmed',
  rinsed: 'Rinsed',
  handled: 'Handled',
  tasted: 'Tasted',
  observed: 'Observed',
  measured: 'Measured by hand',
  jarred: 'Packed in jars',
  'jar-ph': 'pH of a packed jar',
  hold: 'Put on hold',
  release: 'Released',
  distributed: 'Jars gone out',
  'jars-noted': 'Jars noted',
  moved: 'Moved',
  split: 'Split',
};

const quantityUnits: Readonly<Record<string, string>> = { temperature: 'temperature, °C', ph: 'pH', salinity: 'salt, g/L' };

/** In the order a reader wants them; other fields stand in the record only. */
const fieldWords: readonly (readonly [string, (value: string) => string])[] = [
  ['quantity', (value) => quantityUnits[value] ?? value],
  ['value', (value) => value],
  ['brineL', (value) => `${value} L of brine`],
  ['saltGPerL', (value) => `${value} g salt per L`],
  ['fraction', (value) => `${Math.round(Number(value) * 100)} % of the brine`],
  ['saltG', (value) => `${value} g`],
  ['bitterness', (value) => `bitterness ${value} of 10`],
  ['sign', (value) => value],
  ['what', (value) => value],
  ['bottles', (value) => `${value} bottles of ice`],
  ['jars', (value) => `${value} jars`],
  ['jarMl', (value) => `${value} mL each`],
  ['brine', (value) => `brine: ${value}`],
  ['acid', (value) => value],
  ['ml', (value) => `${value} mL`],
  ['strengthPercent', (value) => `${value} %`],
  ['heat', (value) => `heat: ${value}`],
  ['coldC', (value) => `kept at ${value} °C`],
  ['ingredients', (value) => (value === '' ? 'no ingredients named' : `ingredients: ${value}`)],
  ['instrument', (value) => `with ${value}`],
  ['jar', (value) => `jar ${value}`],
  ['reason', (value) => value],
  ['by', (value) => `answered for by ${value}`],
  ['exception', (value) => `exception: ${value}`],
  ['to', (value) => `to ${value}`],
  ['into', (value) => `into lot ${value}`],
  ['drum', (value) => `into drum ${value}`],
  ['fruitKg', (value) => `${value} kg`],
  ['lots', (value) => `from lots ${value}`],
];
