import type { RollupLevel } from '#domain/reading/rollup.ts';

/** Where the rollups of a level stand, and how a row of them comes. */
export const rollupTables = { '10min': 'rollup_10min', '6h': 'rollup_6h' } as const satisfies Record<RollupLevel, string>;
export type RollupRow = readonly [fromMs: number, count: number, sum: number, min: number, max: number];
