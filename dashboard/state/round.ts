import type { Drum } from '#contract';

/** A walk past every drum that holds fruit, in the order of the shed. */
export interface Round {
  readonly stops: readonly string[];
  /** Which stop; past the last one the round is over. */
  readonly at: number;
  /** Drums about which something was written on this walk. */
  readonly seen: readonly string[];
}

export const startRound = (drums: readonly Pick<Drum, 'id' | 'batch'>[]): Round => ({
  stops: drums.filter(({ batch }) => batch !== null && batch.jarredAt === null).map(({ id }) => id),
  at: 0,
  seen: [],
});

export const stopOf = (round: Round): string | null => round.stops[round.at] ?? null;

export const goTo = (round: Round, at: number): Round => ({ ...round, at: Math.min(Math.max(at, 0), round.stops.length) });

export const withSeen = (round: Round, drum: string): Round => (round.seen.includes(drum) ? round : { ...round, seen: [...round.seen, drum] });

/** Taken back: it counts as not looked at. */
export const withoutSeen = (round: Round, drum: string): Round => ({ ...round, seen: round.seen.filter((id) => id !== drum) });

export const leftOut = (round: Round): readonly string[] => round.stops.filter((id) => !round.seen.includes(id));
