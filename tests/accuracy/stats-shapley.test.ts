import { expect, test } from 'vitest';
import { shapley } from '#domain/stats/shapley.ts';
import { checkAccuracy } from '../helpers/accuracy.ts';

/** Who is in a set. */
const has = (set: number, player: number): boolean => (set & (1 << player)) !== 0;
const gloves = (set: number): number => (has(set, 0) && (has(set, 1) || has(set, 2)) ? 1 : 0);
/** Littlechild and Owen (1973): a runway costs what its longest user needs, so each stretch is shared by those who need it. */
const needs = [8, 11, 13, 18];
const runway = (set: number): number => Math.max(0, ...needs.filter((_, player) => has(set, player)));
/** UN Security Council as a voting game: 5 permanent members and 10 others, 9 votes with all permanent ones. */
const council = (set: number): number => {
  const votes = Array.from({ length: 15 }, (_, player) => has(set, player));
  return votes.slice(0, 5).every(Boolean) && votes.filter(Boolean).length >= 9 ? 1 : 0;
};

const games = { gloves: [3, gloves], runway: [4, runway], council: [15, council] } as const;
type Game = keyof typeof games;
const of = (game: Game): readonly number[] => shapley(games[game][0], games[game][1]);
/** The two ways to share that are mistaken for it. */
const firstOrder = (game: Game): readonly number[] => Array.from({ length: games[game][0] }, (_, player) => games[game][1](2 ** (player + 1) - 1) - games[game][1](2 ** player - 1));
const lastOut = (game: Game): readonly number[] => Array.from({ length: games[game][0] }, (_, player) => games[game][1](2 ** games[game][0] - 1) - games[game][1]((2 ** games[game][0] - 1) & ~(1 << player)));

checkAccuracy<readonly [game: Game, player: number]>({
  quantity: 'Shapley value of three known games',
  unit: '',
  source: 'glove game: any text; airport game: Littlechild and Owen, Management Science 20 (1973); Security Council: Shapley and Shubik (1954) as enlarged to 15, 421/2145 and 4/2145; from memory',
  confidence: 'from memory',
  tolerance: 1e-9,
  reason: 'exact fractions',
  rows: [
    [['gloves', 0], 2 / 3], [['gloves', 1], 1 / 6], [['gloves', 2], 1 / 6],
    [['runway', 0], 2], [['runway', 1], 3], [['runway', 2], 4], [['runway', 3], 9],
    [['council', 0], 421 / 2145], [['council', 14], 4 / 2145],
  ],
  actual: ([game, player]) => of(game)[player] as number,
  mistakes: {
    'one order instead of all': ([game, player]) => firstOrder(game)[player] as number,
    'each taken out last': ([game, player]) => lastOut(game)[player] as number,
    'all sets weighted alike': ([game, player]) => {
      const [players, value] = games[game];
      let sum = 0;
      for (let set = 0; set < 2 ** players; set++) if (!has(set, player)) sum += value(set | (1 << player)) - value(set);
      return sum / 2 ** (players - 1);
    },
  },
});

test('each set is asked for once', () => {
  const asked: number[] = [];
  shapley(5, (set) => asked.push(set));
  expect(asked.toSorted((a, b) => a - b)).toEqual(Array.from({ length: 32 }, (_, set) => set));
});
