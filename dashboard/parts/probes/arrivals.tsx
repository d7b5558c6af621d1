import { useEffect, useState } from 'preact/hooks';
import type { Health } from '#contract';
import { arrivalsOf } from '../../state/probes/arrivals.ts';
import { Mark } from '../mark.tsx';
import { useScreen } from '../screen.ts';

/** Cables, buses and a store elsewhere: how they do. `turn` changes whenever it is to be asked anew. */
export const Arrivals = ({ turn }: { readonly turn: number }) => {
  const { call, clock } = useScreen();
  const [health, setHealth] = useState<Health | null>(null);
  useEffect(() => {
    void call('health').then((answer) => answer.ok && setHealth(answer.value));
  }, [call, turn]);
  const lines = health === null ? [] : arrivalsOf(health, clock.now.peek());
  if (lines.length === 0) return null;
  return (
    <section aria-labelledby="probes-arrivals">
      <h2 id="probes-arrivals">Cables and store</h2>
      <ul class="arrivals">
        {lines.map(({ name, state, word, detail }) => (
          <li key={name}>
            <p class="probe-state" data-state={state}>
              <Mark state={state} /> {word}
            </p>
            <p>
              <b>{name}</b> <span class="dim">{detail}</span>
            </p>
          </li>
        ))}
      </ul>
    </section>
  );
};
