import type { BatchDetail } from '#contract';
import { dayMonth } from '../../format/time.ts';
import { kg } from '../../state/pick-words.ts';
import { Go } from '../go.tsx';

/** Where a lot comes from and where it lay: picks, soak, splits, drums. */
export const Trace = ({ batch, zone, drumName }: { readonly batch: BatchDetail; readonly zone: string; readonly drumName: (id: string) => string }) => {
  const { picks, soak, from, parts, stays, warnings } = batch.trace;
  const day = (time: string): string => dayMonth(Date.parse(time), zone);
  return (
    <section class="trace" aria-labelledby="trace">
      <h2 id="trace">Where it comes from, where it lay</h2>
      <ul>
        {from !== null && (
          <li>
            Split from <Go to={{ view: 'batch', lot: from.lot }}>{from.lot}</Go> on {day(from.at)}: the story before that is shared.
          </li>
        )}
        {picks.length === 0 && <li class="dim">No pick was written for it.</li>}
        {picks.map(({ pick, kg: amount }) => (
          <li key={pick}>
            {kg(amount)} of pick <Go to={{ view: 'picks' }}>{pick}</Go>
          </li>
        ))}
        {soak !== null && (
          <li>
            Soaked in water from {day(soak.startedAt)}, its water changed {soak.changes} times.
          </li>
        )}
        {stays.map(({ drum, from: since, to }) => (
          <li key={`${drum} ${since}`}>
            <Go to={{ view: 'drum', drum }}>{drumName(drum)}</Go> {to === null ? `since ${day(since)}` : `${day(since)} to ${day(to)}`}
          </li>
        ))}
        {parts.map(({ lot, at, fruitKg }) => (
          <li key={lot}>
            {kg(fruitKg)} split off on {day(at)} as <Go to={{ view: 'batch', lot }}>{lot}</Go>
          </li>
        ))}
      </ul>
      <p>
        <Go to={{ view: 'trace', of: { kind: 'lot', id: batch.lot } }}>The whole trace, with salt, jars and buyers</Go>
      </p>
      {warnings.map((warning) => (
        <p key={warning} class="caution">
          {warning}
        </p>
      ))}
    </section>
  );
};
