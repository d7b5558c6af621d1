import { expect, expectTypeOf, it } from 'vitest';
import type { z } from 'zod';
import { acts, newEntry, replacement } from '#contract';
import { actKinds, type EntryBodies } from '#domain/journal/entry.ts';

/** What the contract takes is what the journal holds: a field added on one side only does not compile, nor does one of another type. */
type Kind = 'brine-changed' | 'brine-topped-up' | 'salt-added' | 'acid-added' | 'skimmed' | 'rinsed' | 'tasted' | 'observed' | 'measured' | 'jarred' | 'jar-ph' | 'hold' | 'release' | 'distributed';
/** A field that may be left out is typed with `undefined` by one side and without by the other. */
type Whole<Shape> = { [Field in keyof Shape]-?: Exclude<Shape[Field], undefined> };
type Taken<One extends Kind> = Whole<Omit<z.output<(typeof acts)[One]>, 'kind'>>;
type Held<One extends Kind> = Whole<Omit<EntryBodies[One], 'lot' | 'key'>>;
type Fits<One extends Kind> = [keyof Taken<One>, keyof Held<One>] extends [keyof Held<One>, keyof Taken<One>] ? (Taken<One> extends Held<One> ? true : One) : One;

it('field by field', () => {
  expectTypeOf<{ [One in Kind]: Fits<One> }[Kind]>().toEqualTypeOf<true>();
});

const at = '2026-10-03T12:00:00Z';
const examples: Readonly<Record<string, object>> = {
  jarred: { jars: 60, jarMl: 720, brine: '80 g/L', acid: 'vinegar', heat: 'none', coldC: 4, ingredients: ['olives'] },
  'jar-ph': { value: 4.05, instrument: 'cup-meter', jar: '14' },
  hold: { reason: 'smell' },
  release: { by: 'Eleni', exception: 'laboratory report 17' },
  distributed: { to: 'Saturday market', jars: 12 },
};

it.each(Object.entries(examples))('%s is taken as an act of its own and in place of a mistaken one, and no field more', (kind, body) => {
  const act = { kind, at, ...body };
  expect([newEntry.safeParse(act).success, replacement.safeParse(act).success]).toEqual([true, true]);
  expect(newEntry.safeParse({ ...act, surplus: 1 }).success).toBe(false);
  // Every field that is no option is missed when it is left out.
  const optional = new Set(['acid', 'heat', 'coldC', 'jar', 'exception']);
  for (const field of Object.keys(body)) expect([field, newEntry.safeParse({ ...act, [field]: undefined }).success]).toEqual([field, optional.has(field)]);
});

it.each([
  ['jarred', { jars: 0 }], ['jarred', { jars: 1.5 }], ['jarred', { jarMl: 5 }], ['jarred', { ingredients: ['x'.repeat(81)] }], ['jarred', { brine: ' ' }], ['jarred', { coldC: 80 }],
  ['jar-ph', { value: 15 }], ['jar-ph', { instrument: '' }], ['hold', { reason: '' }], ['release', { by: ' ' }], ['distributed', { jars: -1 }], ['distributed', { to: '' }],
] as const)('%s with %j is refused', (kind, over) => {
  expect(newEntry.safeParse({ kind, at, ...examples[kind], ...over }).success).toBe(false);
});

it('no act of the journal is left without a schema', () => {
  expect(actKinds.filter((kind) => !Object.hasOwn(acts, kind))).toEqual([]);
});
