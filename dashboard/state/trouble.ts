import type { Health } from '#contract';
import type { Failure } from '../client/call.ts';
import { pastMoment } from '../format/time.ts';
import type { Connection } from './link.ts';

/** Why nothing on the screen may pass for live, in words; null when all is well. The nearest break is named first. */
export interface Trouble {
  readonly title: string;
  readonly words: string;
}

export interface TroubleSources {
  readonly connection: Connection;
  readonly failure: Failure | null;
  readonly health: Health | null;
}

export const troubleOf = ({ connection, failure, health }: TroubleSources, now: number, zone: string): Trouble | null => {
  const title = (since: number | null): string => (since === null ? 'Not live' : `Not live since ${pastMoment(since, now, zone)}`);
  if (connection.state === 'lost') return { title: title(connection.heardAt), words: 'No connection to the shed computer; what stands here is old. Trying again.' };
  if (failure !== null) return { title: title(null), words: `${failure.detail} Trying again.` };
  if (health?.collector?.status === 'silent') {
    const { since } = health.collector;
    return { title: title(since === null ? null : Date.parse(since)), words: 'The collector is silent: nothing is being measured or watched. It is started again by itself; look at the shed computer if this stays.' };
  }
  if (health?.broker?.status === 'lost') return { title: title(null), words: 'The broker is lost: no reading arrives. Trying again.' };
  if (health?.store?.status === 'lost') return { title: title(null), words: 'The store of readings is lost; readings wait and nothing is thrown away. Trying again.' };
  return null;
};
