import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { dayMs, hourMs, minuteMs } from '#contract';
import type { Draft } from '#domain/journal/entry.ts';
import { toRfc3339 } from '#domain/units/time.ts';
import { openBook } from '#collector';
import { join } from 'node:path';
import { harnessStart, openApiHarness, openShed, type ApiClient, type ApiHarness } from '../helpers/api-harness.ts';
import { pdfPages } from '../helpers/pdf.ts';
import { valueOf } from '../helpers/value-of.ts';

/** Trace and exercises over HTTP. Amounts are invented; who is to be told within what time is for the authority to say. */
let harness: ApiHarness;
let owner: ApiClient;
beforeEach(async () => {
  harness = await openApiHarness();
  owner = await harness.as('owner');
});
afterEach(() => harness.close());

const time = (before = 0): string => toRfc3339(harnessStart - before);

const jarredLot = async (): Promise<{ readonly lot: string; readonly salt: string }> => {
  const { id: salt } = await owner.call('receiveIngredient', { body: { item: 'salt', name: 'Sea salt', supplier: 'Salt works', quantity: 25, unit: 'kg', receivedAt: time(20 * dayMs) } });
  const { pick } = await owner.call('addPick', { body: { at: time(11 * dayMs), massKg: 32, trees: [7] } });
  const lot = await openShed(harness, { lots: [salt], picks: [{ pick, kg: 30 }] });
  const add = (body: Parameters<typeof owner.call<'addEntry'>>[1]) => owner.call('addEntry', { params: { lot }, ...body });
  await add({ body: { kind: 'measured', at: time(hourMs), quantity: 'ph', value: 4, instrument: 'cup-meter' } });
  await add({ body: { kind: 'jarred', at: time(hourMs), jars: 84, jarMl: 720, brine: 'fresh', ingredients: ['olives', 'water', 'salt'], saltG: 1_500, lots: [salt] } });
  await add({ body: { kind: 'release', at: time(hourMs), by: 'Eleni', exception: 'laboratory report 17' } });
  await add({ body: { kind: 'distributed', at: time(), to: 'Saturday market', jars: 12 } });
  return { lot, salt };
};

describe('trace', () => {
  it('from a lot back to the tree and forward to the buyer, with the balance of jars and fruit', async () => {
    const { lot, salt } = await jarredLot();
    const trace = await owner.call('trace', { query: { lot: lot.toLowerCase() } });
    const side = (which: string) => trace.nodes.filter(({ side: where }) => where === which).map(({ kind, name }) => `${kind} ${name}`).sort();
    expect(side('back')).toEqual(['ingredient Sea salt', expect.stringMatching(/^pick P26-/), 'probe cup-meter', 'probe p1', 'trees Tree 7']);
    expect(side('forward')).toEqual(['buyer Saturday market', `jars Jars of ${lot}`]);
    expect(trace.balances).toMatchObject([{ lot, jars: { filled: 84, sold: 12, onHand: 72, verdict: 'balances' }, fruit: { pickedKg: 30, verdict: 'balances' } }]);
    expect(trace.edges.find(({ to }) => to.startsWith('buyer:'))?.words).toBe('12 jars 3 Oct 2026');
    const forward = await owner.call('trace', { query: { ingredient: salt } });
    expect(forward.nodes.filter(({ side: where }) => where === 'forward').map(({ kind }) => kind).sort()).toEqual(['batch', 'buyer', 'jars']);
    expect(forward.ingredient).toMatchObject({ received: 25, unit: 'kg', verdict: 'unknown' });
    expect(forward.ingredient?.used).toBeCloseTo(2.7 + 1.5, 9);
    expect((await owner.call('trace', { query: { probe: 'p1' } })).nodes.map(({ name }) => name)).toContain(lot);
  });

  it.each([[{}], [{ lot: 'HO26-A7', ingredient: 'salt' }]])('of %j makes no sense', async (query) => {
    expect((await owner.refused('trace', 'bad-query', { query })).detail).toContain('name one of');
  });

  it('of what is not there says so', async () => {
    for (const query of [{ lot: 'HO26-A7' }, { ingredient: 'salt-1' }, { pick: 'P26-A3' }, { probe: 'p9' }]) expect((await owner.refused('trace', 'not-found', { query })).detail).toContain('There is no');
  });

  it('answers a season of forty lots and 8,000 acts in well under a second', async () => {
    const book = valueOf(openBook(join(harness.directory, 'book.db')));
    const drafts: Draft[] = [];
    const add = (kind: Draft['kind'], body: object): void => void drafts.push({ who: 'user:owner', kind, body } as Draft);
    for (let salt = 0; salt < 12; salt += 1) add('ingredient-received', { id: `salt-${salt}`, item: 'salt', name: `Salt ${salt}`, supplier: 'Works', receivedAt: time(200 * dayMs), quantity: 1_000, unit: 'kg' });
    for (let drum = 0; drum < 40; drum += 1) {
      const lot = `L${drum}`;
      add('drum-added', { id: `drum-${drum}`, name: `Drum ${drum}`, volumeL: 120, insulated: false });
      for (const channel of ['temperature', 'ph', 'salinity']) add('placed', { probe: `probe-${drum}`, channel, drum: `drum-${drum}`, from: time(200 * dayMs) });
      add('picked', { pick: `P${drum}`, at: time(190 * dayMs), trees: [`${drum}`, `${drum + 40}`], massKg: 70 });
      add('batch-opened', { lot, drum: `drum-${drum}`, pickedAt: time(190 * dayMs), startedAt: time(189 * dayMs), cut: 'slit', style: 'changed-brine', maturity: 'green', fruitKg: 60, brineL: 50, saltGPerL: 100, picks: [{ pick: `P${drum}`, kg: 60 }], lots: [`salt-${drum % 12}`] });
      for (let act = 0; act < 200; act += 1) add('brine-topped-up', { lot, at: time((188 - (act * 88) / 200) * dayMs), brineL: 1, saltGPerL: 80, lots: [`salt-${(drum + act) % 12}`] });
      add('jarred', { lot, at: time(90 * dayMs), jars: 120, jarMl: 720, brine: 'fresh', ingredients: ['olives'], lots: [`salt-${drum % 12}`] });
      for (let out = 0; out < 20; out += 1) add('distributed', { lot, at: time((80 - out) * dayMs), to: `Shop ${(drum + out) % 25}`, jars: 5 });
    }
    book.append(drafts, harnessStart);
    book.close();
    harness.service.tick();
    const trace = await owner.call('trace', { query: { ingredient: 'salt-3' } });
    console.log(`trace of a season (${drafts.length} entries): ${trace.tookMs} ms, ${trace.nodes.length} things, ${trace.edges.length} threads`);
    // Twenty buyers of a lot, starting one further each time: all 25 are reached by forty lots.
    expect(trace.nodes.filter(({ kind }) => kind === 'buyer')).toHaveLength(25);
    expect(trace.nodes.filter(({ kind }) => kind === 'batch')).toHaveLength(40);
    expect(trace.tookMs).toBeLessThan(1_000);
  });
});

describe('an exercise of a recall', () => {
  it('is kept with its start, its end and what it found, and printed', async () => {
    const { lot, salt } = await jarredLot();
    harness.clock.advance(23 * minuteMs);
    const exercise = await owner.call('exerciseRecall', { body: { ingredient: salt, startedAt: time(), gaps: 'no telephone number of the market', action: 'asked for it' } });
    expect(exercise).toMatchObject({ number: 1, minutes: 23, of: { kind: 'ingredient', id: salt }, result: { filled: 84, located: 84, unaccounted: 0, lots: [{ lot, out: 12, here: 72, counted: false }], buyers: [{ to: 'Saturday market', jars: 12 }] } });
    const pdf = await fetch(`${harness.url}/api/recall-exercises/1.pdf`, { headers: { cookie: owner.cookie ?? '' } });
    expect([pdf.status, pdf.headers.get('content-type')]).toEqual([200, 'application/pdf']);
    const text = pdfPages(new Uint8Array(await pdf.arrayBuffer())).join('\n');
    for (const words of ['RECALL EXERCISE 1', '23 minutes', `${lot}: 84 filled = 12 with buyers`, 'Saturday market: 12 jars', 'no telephone number', 'Nothing was called back', 'no approval']) expect(text).toContain(words);
    expect((await owner.call('journal')).entries.at(-1)).toMatchObject({ kind: 'recall-exercise', body: { number: 1, minutes: 23 } });
  });

  it('sent again under its key is the same one; a later sale does not change its paper', async () => {
    const { lot } = await jarredLot();
    const headers = { 'content-type': 'application/json', 'Idempotency-Key': '0123456789abcdef0123' };
    const send = () => owner.fetch('/api/recall-exercises', { method: 'POST', headers, body: JSON.stringify({ lot }) });
    const first = await send();
    await owner.call('addEntry', { params: { lot }, body: { kind: 'distributed', at: time(), to: 'Shop', jars: 3 } });
    expect((await send()).body).toEqual(first.body);
    expect((await owner.call('recallExercises')).exercises).toEqual([first.body]);
  });

  it('is of one thing, and its paper of an exercise there was', async () => {
    await owner.refused('exerciseRecall', 'does-not-fit', { body: {} });
    await owner.refused('exerciseRecall', 'not-found', { body: { ingredient: 'salt-1' } });
    expect((await owner.fetch('/api/recall-exercises/7.pdf')).status).toBe(404);
    expect((await (await harness.as('wall')).fetch('/api/recall-exercises/7.pdf')).status).toBe(403);
  });
});
