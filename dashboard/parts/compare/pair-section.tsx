import type { ComparePair } from '#contract';
import type { UnitChoice } from '../../format/units.ts';
import { courseFacts, overlayDays } from '../../state/compare/overlay-words.ts';
import { daysNumber } from '../../state/compare/group-words.ts';
import { misfitWords, uncertaintyWords } from '../../state/compare/pair-words.ts';
import { AttributionBars } from './attribution-bars.tsx';
import { Overlay } from './overlay.tsx';
import { TableRoom } from './table-room.tsx';

/** Two cures side by side: what each was, why the first was slower, and both over one scale of days. */
export const PairSection = ({ pair, units }: { readonly pair: ComparePair; readonly units: UnitChoice }) => {
  const { first, second, attribution } = pair;
  return (
    <>
      <section class="pair-why" aria-labelledby="why">
        <h2 id="why">Where the days went</h2>
        {'unknown' in attribution ? (
          <p class="caution">The days cannot be shared out: {attribution.unknown}.</p>
        ) : (
          <>
            <p class="dim">{uncertaintyWords(pair, attribution)}</p>
            <Misfit words={misfitWords(pair, attribution)} />
            <AttributionBars pair={pair} attribution={attribution} units={units} />
            <p class="dim">
              The bars add up to {daysNumber(attribution.differenceDays)}. The model alone says {daysNumber(attribution.modelDays.first)} days against {daysNumber(attribution.modelDays.second)}. Basis: {attribution.basis}. It speaks of bitterness only.
            </p>
          </>
        )}
      </section>
      <section class="pair-overlay" aria-labelledby="over">
        <h2 id="over">Over one scale of days</h2>
        <dl class="pair-facts">
          {[first, second].map((course) => (
            <div key={course.lot}>
              <dt>{course.lot}</dt>
              <dd>{courseFacts(course, units)}</dd>
            </div>
          ))}
        </dl>
        <Overlay pair={pair} units={units} />
        <details>
          <summary>The numbers</summary>
          <OverlayTable pair={pair} units={units} />
        </details>
      </section>
    </>
  );
};

const Misfit = ({ words }: { readonly words: string | null }) => (words === null ? null : <p class="caution">{words}</p>);

const OverlayTable = ({ pair, units }: { readonly pair: ComparePair; readonly units: UnitChoice }) => (
  <TableRoom label="Both cures day by day">
    <table>
      <caption>Mean brine temperature of each day in {units.temperature === 'F' ? '°F' : '°C'}, and what was done</caption>
      <thead>
        <tr>
          <th scope="col">Day</th>
          <th scope="col">{pair.first.lot}</th>
          <th scope="col" class="text-cell">
            done
          </th>
          <th scope="col">{pair.second.lot}</th>
          <th scope="col" class="text-cell">
            done
          </th>
        </tr>
      </thead>
      <tbody>
        {overlayDays(pair, units).map(({ day, cells: [one, other] }) => (
          <tr key={day}>
            <th scope="row">{day}</th>
            <td>{one.temperature}</td>
            <td class="text-cell">{one.what}</td>
            <td>{other.temperature}</td>
            <td class="text-cell">{other.what}</td>
          </tr>
        ))}
      </tbody>
    </table>
  </TableRoom>
);
