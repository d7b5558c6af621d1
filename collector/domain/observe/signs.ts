import { brineSigns } from './brine-signs.ts';
import { fruitSigns } from './fruit-signs.ts';
import { jarSigns, readingSigns } from './reading-and-jar-signs.ts';
import type { Sign } from './sign.ts';
import { smellSigns } from './smell-signs.ts';
import { surfaceSigns } from './surface-signs.ts';

/**
 * What a person may see, what it may be, what to check and do, and when to discard: conservative, and where sources disagree the stricter.
 * The id of a sign is what an `observed` act carries.
 */
export const signs: readonly Sign[] = [...surfaceSigns, ...brineSigns, ...fruitSigns, ...smellSigns, ...readingSigns, ...jarSigns];

const byId: ReadonlyMap<string, Sign> = new Map(signs.map((sign) => [sign.id, sign]));

/** The sign an `observed` act means, by its id; null for words of a person's own. */
export const signOf = (observed: string): Sign | null => byId.get(observed.trim().toLowerCase().replaceAll(/\s+/g, '-')) ?? null;

/** From here on the lot is held until a person releases it. */
export const holdSeverity = 3;

/** Whether a sign opens a hold: judged by the worst it may be, before anything has been checked. */
export const opensHold = (sign: Pick<Sign, 'severity' | 'atWorst'>): boolean => Math.max(sign.severity, sign.atWorst) >= holdSeverity;
