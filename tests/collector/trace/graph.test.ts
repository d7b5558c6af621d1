import { describe, expect, it } from 'vitest';
import { buildTrace } from '#domain/trace/build.ts';
import { nodeId, walkFrom } from '#domain/trace/graph.ts';
import { kinOf } from '#domain/trace/kin.ts';
import { recallOf } from '#domain/trace/recall.ts';
import { usesIn } from '#domain/trace/uses.ts';
import { dayMs, toRfc3339 } from '#domain/units/time.ts';
import { createShedBook, type ShedBook } from '../../helpers/shed-book.ts';

/** Invented lots. What was poured in before a split is in both parts, what came later in one: no published source, the story itself tells. */
const start = Date.UTC(2026, 3, 1);
const day = (number: number): string => toRfc3339(start + number * dayMs);

const receive = (book: ShedBook, id: string, item: 'salt' | 'vinegar' | 'lids' | 'buffer', quantity: number, unit: 'kg' | 'L' | 'pieces'): void =>
  void book.write('ingredient-received', { id, item, name: id, supplier: 'Salt works', receivedAt: day(0), quantity, unit }, start);

/** Two batches, the second of which is split; `salt-1` in both, `salt-2` only in the second after its split. */
const twoBatches = (): ShedBook => {
  const book = createShedBook();
  for (const id of ['one', 'two', 'three']) book.write('drum-added', { id, name: id, volumeL: 60, insulated: false }, start);
  receive(book, 'salt-1', 'salt', 25, 'kg');
  receive(book, 'salt-2', 'salt', 25, 'kg');
  receive(book, 'lids-1', 'lids', 200, 'pieces');
  receive(book, 'buffer-4', 'buffer', 1, 'pieces');
  book.write('placed', { probe: 'p1', channel: 'temperature', drum: 'one', from: day(0) }, start);
  book.write('picked', { pick: 'P26-A3', at: day(1), trees: ['7', '8'], massKg: 40 }, start);
  const open = (lot: string, drum: string): void =>
    void book.write('batch-opened', { lot, drum, pickedAt: day(1), startedAt: day(2), cut: 'slit', style: 'changed-brine', maturity: 'green', fruitKg: 20, brineL: 18, saltGPerL: 100, picks: [{ pick: 'P26-A3', kg: 20 }], lots: ['salt-1'] }, start);
  open('A', 'one');
  open('B', 'two');
  book.write('brine-changed', { lot: 'B', at: day(5), brineL: 18, saltGPerL: 80, lots: ['salt-1'] }, start);
  book.write('split', { lot: 'B', at: day(6), into: 'C', drum: 'three', fruitKg: 8, brineL: 7 }, start);
  book.write('salt-added', { lot: 'B', at: day(8), saltG: 500, lots: ['salt-2'] }, start);
  book.write('calibrated', { probe: 'cup-meter', kind: 'ph', points: [{ ph: 7, mv: 0 }, { ph: 4, mv: 174 }], temperatureC: 20, at: day(9), lots: ['buffer-4'] }, start);
  book.write('measured', { lot: 'B', at: day(10), quantity: 'ph', value: 4.2, instrument: 'cup-meter' }, start);
  book.write('calibrated', { probe: 'cup-meter', kind: 'ph', points: [{ ph: 7, mv: 0 }, { ph: 4, mv: 174 }], temperatureC: 20, at: day(11) }, start);
  book.write('measured', { lot: 'A', at: day(12), quantity: 'ph', value: 4.2, instrument: 'cup-meter' }, start);
  book.write('jarred', { lot: 'C', at: day(60), jars: 20, jarMl: 720, brine: 'fresh', ingredients: ['olives'], saltG: 300, lots: ['salt-2', 'lids-1'] }, start);
  book.write('distributed', { lot: 'C', at: day(80), to: 'Saturday market', jars: 6 }, start);
  book.write('distributed', { lot: 'C', at: day(87), to: 'Saturday market', jars: 5 }, start);
  book.write('jars-noted', { lot: 'C', at: day(88), what: 'returned', jars: 1 }, start);
  book.write('jars-noted', { lot: 'C', at: day(88), what: 'broken', jars: 2 }, start);
  return book;
};

const now = start + 100 * dayMs;
const walk = (book: ShedBook, id: string) => {
  const found = walkFrom(buildTrace(book.shed, now, 'UTC'), id);
  if (found === null) throw new Error(`no ${id}`);
  return found;
};
const names = (book: ShedBook, id: string, side: 'back' | 'forward'): string[] => walk(book, id).nodes.filter((node) => node.side === side).map((node) => node.id).sort();

describe('from a lot', () => {
  it('back to trees, picks, ingredient lots and the lot it was split from; forward to jars and buyers', () => {
    const book = twoBatches();
    expect(names(book, 'batch:C', 'back')).toEqual(['batch:B', 'ingredient:lids-1', 'ingredient:salt-1', 'ingredient:salt-2', 'pick:P26-A3', 'trees:7', 'trees:8']);
    expect(names(book, 'batch:C', 'forward')).toEqual(['buyer:Saturday market', 'jars:C']);
  });

  it('forward to the parts that were split off, with their jars', () => {
    expect(names(twoBatches(), 'batch:B', 'forward')).toEqual(['batch:C', 'buyer:Saturday market', 'jars:C']);
  });

  it('and to probes that watched it, in the drum where it lay at that time', () => {
    expect(names(twoBatches(), 'batch:A', 'back')).toContain('probe:p1');
    expect(names(twoBatches(), 'batch:B', 'back')).not.toContain('probe:p1');
  });
});

describe('from a source', () => {
  it('salt reaches what it went into, and not a part that was gone by then', () => {
    const book = twoBatches();
    expect(names(book, 'ingredient:salt-1', 'forward')).toEqual(['batch:A', 'batch:B', 'batch:C', 'buyer:Saturday market', 'jars:C']);
    // Into B after C had left it, and into the jars of C by itself.
    expect(names(book, 'ingredient:salt-2', 'forward')).toEqual(['batch:B', 'buyer:Saturday market', 'jars:C']);
    expect(names(book, 'ingredient:lids-1', 'forward')).toEqual(['buyer:Saturday market', 'jars:C']);
  });

  it('a buffer reaches readings made between one setting of the meter and the next', () => {
    expect(names(twoBatches(), 'ingredient:buffer-4', 'forward')).toEqual(['batch:B']);
  });

  it('jars and lids of one packing are each as many as were filled', () => {
    const book = twoBatches();
    book.write('ingredient-received', { id: 'jars-1', item: 'jars', name: 'jars', supplier: 'Dealer', receivedAt: day(0), quantity: 100, unit: 'pieces' }, start);
    book.write('jarred', { lot: 'A', at: day(70), jars: 30, jarMl: 720, brine: 'fresh', ingredients: ['olives'], lots: ['jars-1', 'lids-1'] }, start);
    expect(usesIn(book.shed).filter(({ lot, kind }) => lot === 'A' && kind === 'jarred').map(({ quantity }) => quantity)).toEqual([30, 30]);
  });

  it('a pick and a tree reach every lot', () => {
    for (const id of ['pick:P26-A3', 'trees:8']) expect(names(twoBatches(), id, 'forward').filter((each) => each.startsWith('batch:'))).toEqual(['batch:A', 'batch:B', 'batch:C']);
  });

  it('a corrected act lets go of its lots', () => {
    const book = twoBatches();
    const wrong = book.entries.find(({ kind }) => kind === 'salt-added')?.sequence ?? 0;
    book.write('corrected', { entry: wrong, reason: 'not this drum', replacement: null }, now);
    expect(names(book, 'ingredient:salt-2', 'forward')).toEqual(['buyer:Saturday market', 'jars:C']);
  });

  it('that nobody knows is no walk', () => {
    expect(walkFrom(buildTrace(twoBatches().shed, now, 'UTC'), nodeId('ingredient', 'none'))).toBeNull();
  });
});

describe('amounts', () => {
  it('are counted once, though two lots share the story: 1.8 + 1.8 + 1.44 kg of the first salt', () => {
    const uses = usesIn(twoBatches().shed);
    const of = (id: string): number => uses.filter(({ ingredient }) => ingredient === id).reduce((sum, { quantity }) => sum + (quantity ?? 0), 0);
    expect(of('salt-1')).toBeCloseTo(1.8 + 1.8 + 1.44, 9);
    expect(of('salt-2')).toBeCloseTo(0.8, 9);
    expect(of('lids-1')).toBe(20);
  });

  it('of two lots of a kind in one act are taken for half each', () => {
    const book = twoBatches();
    book.write('salt-added', { lot: 'A', at: day(9), saltG: 400, lots: ['salt-1', 'salt-2'] }, start);
    expect(usesIn(book.shed).filter(({ lot, kind }) => lot === 'A' && kind === 'salt-added').map(({ quantity }) => quantity)).toEqual([0.2, 0.2]);
  });
});

describe('a recall', () => {
  it('finds 20 jars: 10 with buyers, 2 broken, 8 here', () => {
    const book = twoBatches();
    const result = recallOf(book.shed, walk(book, 'ingredient:lids-1'), now);
    expect(result).toMatchObject({ lots: [{ lot: 'C', filled: 20, out: 10, otherwise: 2, here: 8, counted: false, unaccounted: 0 }], filled: 20, located: 20, unaccounted: 0, inDrums: [] });
    expect(result.buyers.map(({ jars }) => jars)).toEqual([6, 5]);
  });

  it('tells a jar that the shelf does not hold', () => {
    const book = twoBatches();
    book.write('jars-noted', { lot: 'C', at: day(90), what: 'counted', jars: 7 }, start);
    book.write('distributed', { lot: 'C', at: day(95), to: 'Shop', jars: 2 }, start);
    expect(recallOf(book.shed, walk(book, 'batch:C'), now)).toMatchObject({ lots: [{ out: 12, here: 5, counted: true, unaccounted: 1 }], located: 19, unaccounted: 1 });
  });

  it('names fruit that is still in a drum', () => {
    const book = twoBatches();
    expect(recallOf(book.shed, walk(book, 'ingredient:salt-1'), now).inDrums).toEqual([{ lot: 'A', drum: 'one' }, { lot: 'B', drum: 'two' }]);
  });

  it('and lots that share a source are told as kin', () => {
    const graph = buildTrace(twoBatches().shed, now, 'UTC');
    expect(kinOf(graph, 'A').map(({ lot }) => lot).sort()).toEqual(['B', 'C']);
    expect(kinOf(graph, 'C').find(({ lot }) => lot === 'B')?.through.toSorted()).toEqual(['P26-A3', 'salt-1', 'salt-2']);
  });
});
