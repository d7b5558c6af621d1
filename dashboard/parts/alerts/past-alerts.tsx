import type { Alert } from '#contract';
import { pastMoment } from '../../format/time.ts';
import { inWords, showQuantity, type UnitChoice } from '../../format/units.ts';
import { pastWords, ruleWords } from '../../state/alert-words.ts';
import { byWhom } from '../../state/story-words.ts';
import { TableRoom } from '../compare/table-room.tsx';

interface PastAlertsProps {
  readonly alerts: readonly Alert[];
  readonly now: number;
  readonly zone: string;
  readonly units: UnitChoice;
  readonly nameOf: (drum: string) => string;
}

const quantityUnits = new Set(['Cel', 'pH', 'g/L']);

/** What is over: when, what, how bad, how long, who saw it and what was done. */
export const PastAlerts = ({ alerts, now, zone, units, nameOf }: PastAlertsProps) => {
  if (alerts.length === 0) return <p class="none-yet">No alert is over yet.</p>;
  return (
    <TableRoom label="Alerts that are over">
      <table>
        <thead>
          <tr>
            <th scope="col">Since</th>
            <th scope="col">Where</th>
            <th scope="col">What</th>
            <th scope="col">Priority</th>
            <th scope="col">Furthest</th>
            <th scope="col">How long</th>
            <th scope="col">Seen by</th>
            <th scope="col">What was done</th>
          </tr>
        </thead>
        <tbody>
          {alerts.map((alert) => (
            <tr key={alert.id}>
              <th scope="row">{pastMoment(Date.parse(alert.since), now, zone)}</th>
              <td>{alert.drum === null ? 'the shed' : nameOf(alert.drum)}</td>
              <td>{ruleWords(alert.rule)}</td>
              <td>{alert.priority}</td>
              <td>{alert.peak === null || !quantityUnits.has(alert.limit.unit) ? '–' : inWords(showQuantity(alert.peak, alert.limit.unit, units))}</td>
              <td>{pastWords(alert)}</td>
              <td>{alert.acknowledgedBy === null ? 'nobody' : byWhom(alert.acknowledgedBy)}</td>
              <td class="wide">{alert.actions.length === 0 ? '–' : alert.actions.map(({ text, disposition }) => `${text}${disposition === null ? '' : ` (fruit ${disposition})`}`).join('; ')}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </TableRoom>
  );
};
