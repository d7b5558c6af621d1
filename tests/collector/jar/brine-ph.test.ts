import { describe, expect, it } from 'vitest';
import { brinePh } from '#domain/jar/brine-ph.ts';
import { jarCautions } from '#domain/jar/cautions.ts';
import type { EntryBodies } from '#domain/journal/entry.ts';
import type { Batch } from '#domain/journal/shed.ts';
import { dayMs, toRfc3339 } from '#domain/units/time.ts';
import { createShedBook, openDrum } from '../../helpers/shed-book.ts';

type Told = { [Kind in 'measured' | 'brine-changed']: readonly [day: number, kind: Kind, body: Omit<EntryBodies[Kind], 'lot' | 'at'>] }['measured' | 'brine-changed'];
const ph = (day: number, value: number, over: { readonly instrument?: string } = {}): Told => [day, 'measured', { quantity: 'ph', value, ...over }];
const change = (day: number, fraction = 1): Told => [day, 'brine-changed', { brineL: 20, saltGPerL: 80, fraction }];
/** A batch by its journal; `takenBack`: the acts of that number, counted from 0, were a mistake. */
const batch = (told: readonly Told[], takenBack: readonly number[] = []): Batch => {
  const book = createShedBook();
  const lot = openDrum(book, 0, { saltGPerL: 80, style: 'changed-brine' });
  const written = told.map(([day, kind, body]) => book.write(kind, { lot, at: toRfc3339(day * dayMs), ...body }, day * dayMs));
  for (const index of takenBack) book.write('corrected', { entry: written[index] ?? 0, reason: 'other drum', replacement: null }, 30 * dayMs);
  return book.shed.batches.get(lot) as Batch;
};
const at = 20 * dayMs;

/** Which reading tells of the brine: assumptions on the careful side. The uncertainty is that of a meter checked that day, in brine: 0.12. */
describe('the pH of the brine before its jars', () => {
  it('is the latest standing one by hand', () => {
    expect(brinePh(batch([ph(10, 4.4), ph(12, 4.1)]), null, at)).toEqual({ value: 4.1, uncertainty: 0.12, at: 12 * dayMs });
    expect(brinePh(batch([ph(10, 4.4), ph(12, 4.1)], [1]), null, at)?.value).toBe(4.4);
    expect(brinePh(batch([[12, 'measured', { quantity: 'salinity', value: 4.1 }]]), null, at)).toBeNull();
  });

  it('is not known from before the brine was renewed, by a strip, or from after the jars', () => {
    expect(brinePh(batch([ph(10, 4.1), change(11)]), null, at)).toBeNull();
    expect(brinePh(batch([ph(10, 4.1), change(11, 0.2)]), null, at)?.value).toBe(4.1);
    expect(brinePh(batch([ph(10, 4.1, { instrument: 'ph-strip' })]), null, at)).toBeNull();
    expect(brinePh(batch([ph(21, 4.1)]), null, at)).toBeNull();
  });

  it('is the worse of a probe and a hand, whichever was later', () => {
    expect(brinePh(batch([ph(12, 4.1)]), { value: 4.4, at }, at)?.value).toBe(4.4);
    expect(brinePh(batch([ph(12, 4.4)]), { value: 4.1, at }, at)?.value).toBe(4.4);
    expect(brinePh(batch([]), { value: 4.1, at }, at)).toEqual({ value: 4.1, uncertainty: 0.12, at });
  });
});

/** Extension pages on low-acid jars, garlic in oil and thermal shock of glass name these risks; never a word that clears a jar. */
describe('cautions stand where the risk is', () => {
  const packed = { ingredients: ['olives', 'water', 'salt'], brine: '80 g/L, fresh' };
  it.each([
    ['every jar', packed, [/botulism/]],
    ['oil', { ...packed, ingredients: ['olives', 'olive oil'] }, [/botulism/, /Oil shuts out air/]],
    ['garlic', { ...packed, ingredients: ['olives', 'Garlic'] }, [/botulism/, /Garlic/]],
    ['cold', { ...packed, coldC: 4 }, [/botulism/, /Cold slows/]],
    ['hot brine', { ...packed, brine: 'boiling, 80 g/L' }, [/botulism/, /scalds/]],
    ['heat', { ...packed, heat: '15 min at 80 °C' }, [/botulism/, /scalds/]],
  ])('%s', (_name, jars, words) => {
    const told = jarCautions(jars);
    expect(told).toHaveLength(words.length);
    for (const [index, word] of words.entries()) expect(told[index]).toMatch(word);
    expect(told.join(' ')).not.toMatch(/\b(?:safe|harmless|approved)\b/i);
  });

  it('boiled olives are no olive oil: words are read whole', () => {
    expect(jarCautions({ ...packed, ingredients: ['boiled water', 'olives'] }).some((words) => words.startsWith('Oil'))).toBe(false);
  });
});
