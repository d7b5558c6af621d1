import { TableRoom } from '../compare/table-room.tsx';
import type { Season } from '#contract';
import { dayMonth } from '../../format/time.ts';
import type { UnitChoice } from '../../format/units.ts';
import { kgText } from '../../state/season/season-words.ts';
import { Go } from '../go.tsx';

/** The numbers behind the picture, a row a batch. */
export const LedgerTable = ({ ledger, units, zone }: { readonly ledger: NonNullable<Season['ledger']>; readonly units: UnitChoice; readonly zone: string }) => {
  const kg = (value: number): string => kgText(value, units);
  const { rows, totals, flagged, flaggedAbove } = ledger;
  return (
    <TableRoom label="The numbers of the season">
      <table>
        <caption>
          Fruit in jars is worked out from jars filled and their usual packing, stones from a usual share: a few per cent unaccounted for tell nothing. A lot with more than {String(flaggedAbove * 100)} % is marked.
        </caption>
        <thead>
          <tr>
            {['Lot', 'Picked', 'Trees', 'Weighed', 'Sorted out', 'In no drum', 'Stones', 'Tasted', 'In the drum', 'Jars', 'In jars', 'Gone out', 'Unaccounted'].map((name) => (
              <th key={name} scope="col">
                {name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.lot}>
              <th scope="row">
                <Go to={{ view: 'drum', drum: row.drum }}>{row.lot}</Go>
              </th>
              <td>{dayMonth(Date.parse(row.pickedAt), zone)}</td>
              <td class="text-cell">{row.trees ?? '–'}</td>
              <td>{kg(row.pickedKg)}</td>
              <td>{kg(row.culledKg)}</td>
              <td>{kg(row.looseKg)}</td>
              <td>{kg(row.stoneKg)}</td>
              <td>{kg(row.tastedKg)}</td>
              <td>{kg(row.curingKg)}</td>
              <td>{row.jars}</td>
              <td>{kg(row.jarredKg)}</td>
              <td>{row.soldJars}</td>
              <td>{row.unaccountedKg === null ? 'not yet' : `${kg(row.unaccountedKg)}${flagged.includes(row.lot) ? ' ▲ look' : ''}`}</td>
            </tr>
          ))}
          <tr class="total">
            <th scope="row">All</th>
            <td>–</td>
            <td class="text-cell">–</td>
            <td>{kg(totals.pickedKg)}</td>
            <td>{kg(totals.culledKg)}</td>
            <td>{kg(totals.looseKg)}</td>
            <td>{kg(totals.stoneKg)}</td>
            <td>{kg(totals.tastedKg)}</td>
            <td>{kg(totals.curingKg)}</td>
            <td>{totals.jars}</td>
            <td>{kg(totals.jarredKg)}</td>
            <td>{totals.soldJars}</td>
            <td>{kg(totals.unaccountedKg)}</td>
          </tr>
        </tbody>
      </table>
    </TableRoom>
  );
};
