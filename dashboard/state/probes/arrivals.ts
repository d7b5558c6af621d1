import type { DrumFlag, Health } from '#contract';
import { ago } from '../../format/age.ts';

/** One way by which readings come in, or the place they go to. */
export interface Arrival {
  readonly name: string;
  readonly state: DrumFlag;
  readonly word: string;
  readonly detail: string;
}

const counted = (count: number, one: string): string => `${count.toLocaleString('en-GB')} ${one}${count === 1 ? '' : 's'}`;
const sourceWords = { opening: ['empty', 'opening'], ok: ['inside', 'open'], lost: ['unknown', 'lost'] } as const;
const kindWords = { serial: 'Cable', modbus: 'Bus' } as const;

/** Cables and buses, and what waits for a store that is elsewhere; empty where there is neither. `now` is the clock the times are of. */
export const arrivalsOf = ({ sources = [], store }: Pick<Health, 'sources' | 'store'>, now: number): readonly Arrival[] => {
  const cables = sources.map((source): Arrival => {
    const [state, word] = sourceWords[source.state];
    const refused = Object.values(source.refused).reduce((sum, count) => sum + count, 0);
    const mute = (source.units ?? []).filter((unit) => unit.state === 'silent' || unit.state === 'refusing');
    const parts = [
      counted(source.readings, 'reading'),
      ...(source.lastReadingAt === null ? [] : [`the last ${ago(now - Date.parse(source.lastReadingAt))}`]),
      ...(refused === 0 ? [] : [`${refused.toLocaleString('en-GB')} not usable`]),
      ...mute.map((unit) => `device ${String(unit.unit)} ${unit.state === 'silent' ? 'does not answer' : 'refuses'}`),
      ...(source.trouble === null ? [] : [source.trouble]),
    ];
    return { name: `${kindWords[source.kind]} ${source.name}`, state: state === 'inside' && mute.length > 0 ? 'caution' : state, word: state === 'inside' && mute.length > 0 ? 'look' : word, detail: parts.join(', ') };
  });
  const outbox = store?.outbox;
  if (store === undefined || outbox === undefined) return cables;
  const isLost = store.status === 'lost' || (store.trouble ?? null) !== null;
  const waiting = outbox.waiting === 0 ? 'nothing waits here' : `${counted(outbox.waiting, 'reading')} ${outbox.waiting === 1 ? 'waits' : 'wait'} here, room for ${outbox.mostWaiting.toLocaleString('en-GB')}`;
  const [state, word] = isLost ? (['unknown', 'away'] as const) : outbox.waiting > 0 ? (['caution', 'behind'] as const) : (['inside', 'takes in'] as const);
  const parts = [waiting, ...(outbox.refused === 0 ? [] : [`${counted(outbox.refused, 'reading')} not taken there and kept here`]), ...(store.trouble == null ? [] : [store.trouble])];
  return [...cables, { name: `Store ${store.place ?? store.kind}`, state, word, detail: parts.join(', ') }];
};
