import type { AnnouncementKind } from '#domain/announce/announced.ts';
import type { Message } from '#domain/announce/words.ts';
import type { Alert } from '#domain/rules/alert.ts';
import type { EpochMs } from '#domain/units/time.ts';

/** One message on its way out. `id` stays the same when it has to be sent again, so that the other side can tell a copy. */
export interface Letter extends Message {
  readonly id: string;
  readonly what: AnnouncementKind;
  readonly site: string;
  readonly at: EpochMs;
  readonly lateMs: number;
  readonly alerts: readonly Alert[];
  readonly sealLines: readonly string[];
}

/** Null when the other side took it, or what went wrong, in words fit for a screen and without anything secret. */
export type SendFault = string | null;

/** An outlet that does not answer within this long has failed. */
export const sendTimeoutMs = 15_000;
