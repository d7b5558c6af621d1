import type { Instrument } from '#contract';
import { dayMonth, pastMoment } from '../../format/time.ts';
import { checkSeries } from '../../state/inspection-words.ts';
import { TableRoom } from '../compare/table-room.tsx';
import { useScreen } from '../screen.ts';
import { CheckChart } from './check-chart.tsx';

export interface InDoubt {
  readonly instrument: string;
  readonly check: number;
  readonly lot: string;
  readonly why: string;
}

/** One instrument: whether what it tells now may stand as evidence, its checks over time, and what a failed one put in doubt. */
export const InstrumentCard = ({ instrument, zone, onCheck, onDecide }: { readonly instrument: Instrument; readonly zone: string; readonly onCheck: () => void; readonly onDecide: (doubt: InDoubt) => void }) => {
  const { clock, session } = useScreen();
  const { id, name, kind, serial, certificate, uses, checks, doubts } = instrument;
  const open = doubts.flatMap(({ check, why, lots }) => lots.map((lot) => ({ check, why, lot })));
  return (
    <li class="instrument">
      <div class="instrument-head">
        <h2>{name}</h2>
        <span class="dim">
          {kind === 'probe' ? 'probe' : 'held in the hand'}
          {serial !== null && `, serial ${serial}`}
          {certificate !== null && `, certificate ${certificate.number} due ${certificate.dueOn}`}
        </span>
        {session.mayWork.value && (
          <button type="button" class="quiet" onClick={onCheck}>
            Write down a check
          </button>
        )}
      </div>
      {uses.map(({ measured, notUsable, dueAt }) => (
        <p key={measured}>
          {measured === 'ph' ? 'pH' : 'Temperature'}: {notUsable === null ? 'checked as required' : <b>u: not usable as evidence now, {notUsable}</b>}
          {dueAt !== null && <span class="dim">. {Date.parse(dueAt) < clock.now.peek() ? 'A check was' : 'Next check'} due {dayMonth(Date.parse(dueAt), zone)}.</span>}
        </p>
      ))}
      {open.length > 0 && (
        <div class="doubt">
          <p>
            <b>In doubt after a failed check</b>
          </p>
          <ul>
            {open.map(({ check, why, lot: { lot, entries, watched, decided } }) => (
              <li key={`${String(check)} ${lot}`}>
                <span>
                  Lot {lot}: {[...(entries.length > 0 ? [`${String(entries.length)} ${entries.length === 1 ? 'reading' : 'readings'} by hand`] : []), ...(watched ? ['what the probe told'] : [])].join(' and ')} ({why})
                </span>
                {decided === null ? (
                  session.isOwner.value && (
                    <button type="button" class="quiet" onClick={() => onDecide({ instrument: id, check, lot, why })}>
                      Decide
                    </button>
                  )
                ) : (
                  <b>
                    {decided.decision === 'stands' ? 'Stands' : 'Discarded'}: {decided.reason} ({decided.by})
                  </b>
                )}
              </li>
            ))}
          </ul>
        </div>
      )}
      {checks.length > 0 && (
        <>
          <div class="check-charts">
            {checkSeries.map((series) => (
              <CheckChart key={series} checks={checks} series={series} zone={zone} />
            ))}
          </div>
          <details>
            <summary>
              {checks.length} {checks.length === 1 ? 'check' : 'checks'}, as a table
            </summary>
            <TableRoom label={`Checks of ${name}`}>
              <table class="check-table">
                <thead>
                  <tr>
                    <th scope="col">When</th>
                    <th scope="col">What</th>
                    <th scope="col">Found</th>
                    <th scope="col">By</th>
                  </tr>
                </thead>
                <tbody>
                  {checks.map((check) => (
                    <tr key={check.sequence}>
                      <td>{pastMoment(Date.parse(check.at), clock.now.peek(), zone)}</td>
                      <td>{check.text}</td>
                      <td>{[check.failed === null ? 'passed' : `failed: ${check.failed}`, ...(check.foundWrong === null ? [] : [check.foundWrong])].join('; ')}</td>
                      <td>{check.by}</td>
                    </tr>
                  ))}
                </tbody>
              </table>
            </TableRoom>
          </details>
        </>
      )}
    </li>
  );
};
