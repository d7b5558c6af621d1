import type { Pick } from '#contract';
import { dayWords, placeWords } from '../../state/pick-words.ts';
import { TableRoom } from '../compare/table-room.tsx';

const figure = (value: number | null, decimals = 1): string => (value === null ? '' : value.toFixed(decimals));

/** The numbers behind the cards. */
export const PickTable = ({ picks, zone }: { readonly picks: readonly Pick[]; readonly zone: string }) => (
  <details class="pick-numbers">
    <summary>All numbers</summary>
    <TableRoom label="Picks in numbers">
      <table>
        <thead>
          <tr>
            {['Pick', 'Day', 'Where', 'Picked, kg', 'Index', 'Culls, kg', 'In batches, kg', 'Unaccounted, kg', 'Hours to brine'].map((title) => (
              <th key={title} scope="col">{title}</th>
            ))}
          </tr>
        </thead>
        <tbody>
          {picks.map((pick) => (
            <tr key={pick.pick}>
              <th scope="row">{pick.pick}</th>
              <td>{dayWords(pick, zone)}</td>
              <td>{placeWords(pick)}</td>
              <td>{figure(pick.pickedKg)}</td>
              <td>{figure(pick.maturity?.index ?? null, 2)}</td>
              <td>{figure(pick.culledKg)}</td>
              <td>{figure(pick.inBatchesKg)}</td>
              <td>{figure(pick.unaccountedKg)}</td>
              <td>{figure(pick.clock.hours, 0)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </TableRoom>
  </details>
);
