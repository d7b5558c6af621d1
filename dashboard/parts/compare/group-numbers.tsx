import type { CompareGroup } from '#contract';
import { dayMonth } from '../../format/time.ts';
import { inWords, showTemperature, type UnitChoice } from '../../format/units.ts';
import { daysNumber, fitFacts, kindWords } from '../../state/compare/group-words.ts';
import { TableRoom } from './table-room.tsx';

/** The numbers behind the picture of a group: its cures, its line, and the fit. */
export const GroupNumbers = ({ group, bitterness, units, zone }: { readonly group: CompareGroup; readonly bitterness: number; readonly units: UnitChoice; readonly zone: string }) => {
  const { cures, fit, interval } = group;
  const unit = units.temperature === 'F' ? '°F' : '°C';
  const kind = kindWords(group);
  return (
    <div class="numbers">
      <TableRoom label={`Cures, ${kind}`}>
        <table>
          <caption>Cures, from the start to the first tasting at or below {bitterness} of 10</caption>
          <thead>
            <tr>
              <th scope="col">Lot</th>
              <th scope="col">Started</th>
              <th scope="col">Mean {unit}</th>
              <th scope="col">Days</th>
              <th scope="col">Turned after day</th>
              <th scope="col">Measured</th>
            </tr>
          </thead>
          <tbody>
            {cures.map(({ lot, startedAt, temperatureC, days, bitterDays, measuredShare }) => (
              <tr key={lot}>
                <th scope="row">{lot}</th>
                <td>{dayMonth(Date.parse(startedAt), zone)}</td>
                <td>{showTemperature(temperatureC, units).text}</td>
                <td>{daysNumber(days)}</td>
                <td>{bitterDays === null ? 'not known' : daysNumber(bitterDays)}</td>
                <td>{Math.floor(measuredShare * 100)} %</td>
              </tr>
            ))}
          </tbody>
        </table>
      </TableRoom>
      {fit !== null && (
        <dl class="fit-facts">
          {fitFacts(fit, units).map(([name, value]) => (
            <div key={name}>
              <dt>{name}</dt>
              <dd>{value}</dd>
            </div>
          ))}
        </dl>
      )}
      {interval !== null && (
        <TableRoom label={`Line, ${kind}`}>
          <table>
            <caption>The line, with the interval for one more cure (95 %)</caption>
            <thead>
              <tr>
                <th scope="col">Mean</th>
                <th scope="col">Days</th>
                <th scope="col">From</th>
                <th scope="col">To</th>
                <th scope="col">
                  <span class="hidden-words">Remark</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {interval.points.map(({ temperatureC, days, low, high, extrapolated }) => (
                <tr key={temperatureC} class={extrapolated ? 'dim' : undefined}>
                  <th scope="row">{inWords(showTemperature(temperatureC, units, 0))}</th>
                  <td>{daysNumber(days)}</td>
                  <td>{daysNumber(low)}</td>
                  <td>{daysNumber(high)}</td>
                  <td>{extrapolated ? 'no cure here' : ''}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </TableRoom>
      )}
      <p>
        <a href={`/api/compare.csv?bitterness=${String(bitterness)}`} download="cures.csv" class="act-link">
          All groups as a table (CSV)
        </a>
      </p>
    </div>
  );
};
