import { byCollector, type Draft } from '#domain/journal/entry.ts';
import type { Shed } from '#domain/journal/shed.ts';
import type { EpochMs } from '#domain/units/time.ts';

/** Alerts whose time on the shelf is over come back by themselves: a shelf that is forgotten would hide a warm drum. */
export const shelvesOver = ({ openAlerts }: Shed, now: EpochMs): readonly Draft[] =>
  [...openAlerts.values()].filter(({ shelf }) => shelf !== null && shelf.until <= now).map(({ id }): Draft => ({ who: byCollector, kind: 'alert-unshelved', body: { id } }));
