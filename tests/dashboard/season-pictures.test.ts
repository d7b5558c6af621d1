import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { SeasonTotals } from '#contract';
import { flowPicture, nodeWidth } from '../../dashboard/state/season/flow.ts';
import { drumSentence, missingWords, percent, seasonSentence, spanText, swingWords } from '../../dashboard/state/season/season-words.ts';
import { weeksPicture } from '../../dashboard/state/season/weeks-picture.ts';
import { metric } from '../../dashboard/format/units.ts';

const room = { width: 1_212, height: 400, head: 66, foot: 84 };
const perKg = (400 - 66 - 84) / 100;
const totals: SeasonTotals = {
  picks: 3, batches: 2, pickedKg: 100, culledKg: 6, looseKg: 4, drumKg: 90, stoneKg: 8, tastedKg: 2, curingKg: 40, jars: 100, jarredKg: 36, soldJars: 25, soldKg: 9, leftJars: 75, unaccountedKg: 4, unaccountedShare: 0.08,
};
const rows = [{ lot: 'A', drumKg: 40, jarredAt: null }, { lot: 'B', drumKg: 50, jarredAt: '2026-12-01T00:00:00.000Z' }];

describe('the flow of a season', () => {
  test('is as wide as it weighs, everywhere', () => {
    const { nodes, staying, bands, slices, leaving } = flowPicture(totals, rows, room);
    expect(nodes.map(({ column, height }) => [column, height / perKg])).toEqual([[0, 100], [1, 90], [2, 36], [3, 9]]);
    expect(staying.map(({ what, height }) => [what, height / perKg])).toEqual([['curing', 40], ['shelf', 27]]);
    expect(bands.map(({ kg }) => kg)).toEqual([36, 9]);
    expect(slices.map(({ lot, height }) => [lot, height])).toEqual([['A', 40 * perKg - 2], ['B', 50 * perKg - 2]]);
    expect(leaving.map(({ what, kg }) => [what, kg])).toEqual([['culled', 6], ['loose', 4], ['stone', 8], ['tasted', 2], ['unaccounted', 4]]);
  });

  test('takes picks in the order of picking on the left, and emptied drums first on the right, where their fruit goes on', () => {
    const [a, b] = flowPicture(totals, rows, room).slices.map(({ path }) => [...path.matchAll(/[MC ](-?[\d.]+) (-?[\d.]+)(?=[Cv])/g)].map(([, , y]) => Number(y)));
    // A begins at the top and ends below the 50 kg of B; B the other way round.
    expect([a?.[0], a?.[1]]).toEqual([66, 66 + 50 * perKg]);
    expect([b?.[0], b?.[1]]).toEqual([66 + 40 * perKg, 66]);
  });

  test('what leaves does not cross: the lowest bends down first', () => {
    const { leaving } = flowPicture(totals, rows, room);
    const xs = leaving.filter(({ what }) => what !== 'culled' && what !== 'loose').map(({ labelX }) => labelX);
    expect(xs).toEqual(xs.toSorted((one, other) => other - one));
  });

  test('nothing is nothing, and never less: an empty season and one with more in jars than went in', () => {
    const empty = Object.fromEntries(Object.keys(totals).map((key) => [key, 0])) as SeasonTotals;
    expect(flowPicture(empty, [], room)).toEqual({ nodes: [], slices: [], bands: [], staying: [], leaving: [] });
    expect(flowPicture({ ...totals, unaccountedKg: -5, looseKg: -3 }, rows, room).leaving.map(({ what }) => what)).toEqual(['culled', 'stone', 'tasted']);
  });

  test('keeps to its room where jars hold more than was picked', () => {
    const { nodes } = flowPicture({ ...totals, pickedKg: 30, culledKg: 0, looseKg: 0, drumKg: 30, curingKg: 0, stoneKg: 0, tastedKg: 0, unaccountedKg: -6 }, [{ lot: 'A', drumKg: 30, jarredAt: '2026-12-01T00:00:00.000Z' }], room);
    expect(nodes.map(({ height }) => Math.round(height))).toEqual([208, 208, 250, 63]);
  });

  test('stays inside its room, whatever it is', () => {
    fc.assert(
      fc.property(fc.integer({ min: 300, max: 1_600 }), fc.integer({ min: 1, max: 500 }), fc.double({ min: 0, max: 1, noNaN: true }), (width, kg, share) => {
        const picture = flowPicture({ ...totals, pickedKg: kg, culledKg: 0, looseKg: 0, drumKg: kg, curingKg: kg * share, jarredKg: kg * (1 - share), soldKg: 0, stoneKg: 0, tastedKg: 0, unaccountedKg: 0 }, [{ lot: 'A', drumKg: kg, jarredAt: null }], { ...room, width });
        for (const { x, top, height } of picture.nodes) expect(x >= 0 && x + nodeWidth <= width && top >= 66 && top + height <= 400 - 84 + 3).toBe(true);
      }),
      { seed: 3, numRuns: 100 },
    );
  });
});

describe('drums over the weeks', () => {
  const weeks = [{ p10: 1, p50: 2, p90: 3 }, { p10: 2, p50: 4, p90: 6 }, { p10: 0, p50: 1, p90: 2 }];
  const space = { width: 330, height: 260, left: 30, foot: 30, head: 10 };

  test('are steps, and what is over the drums there are is told apart', () => {
    const { middle, haveY, over, rows: lines, marks } = weeksPicture(weeks, 4, space);
    // 220 px for 6.5 drums: the second week stands at four, where the drums there are stand.
    expect(middle).toBe(`M30 ${String(Math.round((230 - 2 * (220 / 6.5)) * 10) / 10)}L130 162.3L130 ${String(Math.round(haveY * 10) / 10)}L230 94.6L230 196.2L330 196.2`);
    expect(over.match(/M/g)).toHaveLength(1);
    expect(over.startsWith('M130 ')).toBe(true);
    expect(lines.map(({ drums }) => drums)).toEqual([0, 2, 4, 6]);
    expect(marks.map(({ week }) => week)).toEqual([1]);
    expect(weeksPicture(weeks, 6, space).over).toBe('');
  });

  test('of no weeks are no lines', () => {
    expect(weeksPicture([], 3, space)).toMatchObject({ band: '', middle: '', over: '', marks: [] });
  });
});

describe('the words of a season', () => {
  const plain = (text: string): string => text.replaceAll('\u00a0', ' ');
  test('say what is known and no more', () => {
    expect(plain(seasonSentence(totals, metric))).toBe('3 picks of 100 kg in all; 40 kg still in drums; 100 jars filled, 25 gone out. Of the fruit from emptied drums 8 % is unaccounted for.');
    expect(plain(seasonSentence({ ...totals, unaccountedShare: -0.021 }, metric))).toContain('The jars hold 2.1 % more than went into their drums.');
    expect(plain(seasonSentence({ ...totals, picks: 1, jars: 0, unaccountedShare: null }, metric))).toBe('1 pick of 100 kg in all; 40 kg still in drums.');
  });

  test('tell spans and shares as people do', () => {
    expect(spanText({ p10: 6.1, p50: 6, p90: 6.4 })).toBe('6');
    expect(spanText({ p10: 6, p50: 7, p90: 9 })).toBe('6 to 9');
    expect([0.004, 0.028, 0.05, 0.12].map((share) => plain(percent(share)))).toEqual(['0.4 %', '2.8 %', '5 %', '12 %']);
    expect([null, 0.05, 0.3, 0.5].map((alternateBearing) => swingWords({ alternateBearing }))).toEqual(['not known yet', '0.05, steady', '0.30', '0.50, strong']);
  });

  test('say whether the drums are enough', () => {
    const plan = { shortChance: 0, figures: { drums: { p10: 6, p50: 6, p90: 9 } }, shopping: { drums: 0 }, input: { drums: 9 } } as Parameters<typeof drumSentence>[0];
    expect(plain(drumSentence(plan))).toBe('9 drums were enough in every season played: 6 to 9 in use at one time.');
    expect(plain(drumSentence({ ...plan, shortChance: 1, input: { ...plan.input, drums: 1 } }))).toBe('1 drum was too few in every season played: 6 to 9 were needed at one time.');
    expect([missingWords(0.17), missingWords(-0.113)].map(plain)).toEqual(['17 % unaccounted for', '11 % more in jars than went in']);
    expect(plain(drumSentence({ ...plan, shortChance: 0.3, shopping: { ...plan.shopping, drums: 1 } }))).toBe('9 drums were too few in 30 % of the seasons played: 6 to 9 were needed at one time. 1 more drum, bought or borrowed, would do in four seasons of five.');
  });
});
