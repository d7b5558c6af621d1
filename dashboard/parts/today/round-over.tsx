import type { RefObject } from 'preact';
import type { Drum } from '#contract';
import { age } from '../../format/age.ts';
import { leftOut, type Round } from '../../state/round.ts';
import { Go } from '../go.tsx';

interface RoundOverProps {
  readonly round: Round;
  readonly drums: readonly Pick<Drum, 'id' | 'name'>[];
  readonly tookMs: number;
  readonly head: RefObject<HTMLHeadingElement | null>;
  readonly onGo: (at: number) => void;
}

/** The end of the walk: which drums were seen, and a way back to those that were not. */
export const RoundOver = ({ round, drums, tookMs, head, onGo }: RoundOverProps) => {
  const missed = leftOut(round);
  const nameOf = (id: string): string => drums.find((drum) => drum.id === id)?.name ?? id;
  return (
    <section class="round-over">
      <h1 ref={head} tabIndex={-1}>
        {round.stops.length === 0 ? 'No drum holds fruit now' : missed.length === 0 ? 'All drums seen' : `${String(round.seen.length)} of ${String(round.stops.length)} drums seen`}
      </h1>
      {round.stops.length > 0 && <p class="dim">in {age(tookMs)}</p>}
      {missed.map((id) => (
        <button key={id} type="button" class="quiet" onClick={() => onGo(round.stops.indexOf(id))}>
          Back to {nameOf(id)}: nothing written
        </button>
      ))}
      <Go class="round-link" to={{ view: 'today' }}>
        To today’s tasks
      </Go>
    </section>
  );
};
