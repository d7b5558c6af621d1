import { z } from 'zod';
import type { Role } from './access.ts';

/** Papers stand beside the table: their answers are not JSON. */
export const daySheetPath = '/papers/day-sheet.pdf';
export const daySheetRoles: readonly Role[] = ['owner', 'helper', 'wall'];
export const daySheetQuery = z.strictObject({ date: z.iso.date().optional().meta({ description: 'a local day, today to two weeks ahead; default: today' }) });
