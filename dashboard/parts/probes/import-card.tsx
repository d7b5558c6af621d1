import type { ImportReport } from '#contract';
import { dayMonth, pastMoment } from '../../format/time.ts';
import { channelLabel } from '../../state/probes/probe-words.ts';
import { reportWords } from '../../state/probes/file-words.ts';
import { TableRoom } from '../compare/table-room.tsx';
import { Go } from '../go.tsx';
import { Mark } from '../mark.tsx';

/** One file: how far it is, what came of it, and each row that was refused, by reason. */
export const ImportCard = ({ report, now, zone }: { readonly report: ImportReport; readonly now: number; readonly zone: string }) => {
  const { state } = report;
  const isOn = state === 'waiting' || state === 'reading';
  const mark = state === 'failed' ? 'caution' : isOn ? 'empty' : report.refused.length > 0 || report.conflicts > 0 ? 'caution' : 'done';
  const word = { waiting: 'waits', reading: 'being read', done: 'taken in', failed: 'stopped' }[state];
  return (
    <li class="import-card" aria-label={report.file}>
      <p>
        <b>{report.file}</b> as {report.mapping.probe}, {channelLabel(report.mapping.channel)}
        <br />
        <span class="dim">
          {pastMoment(Date.parse(report.orderedAt), now, zone)} by {report.by.replace(/^user:/, '')}
          {report.from !== null && report.to !== null && `, readings from ${dayMonth(Date.parse(report.from), zone)} ${report.from.slice(0, 4)} to ${dayMonth(Date.parse(report.to), zone)} ${report.to.slice(0, 4)}`}
        </span>
      </p>
      <p role="status">
        <span class="probe-state" data-state={mark === 'done' ? 'inside' : mark === 'caution' ? 'caution' : 'unknown'}>
          <Mark state={mark} /> {word}
        </span>{' '}
        {reportWords(report)}.
      </p>
      {isOn && <progress max={1} value={report.share} aria-label={`${report.file}, share read`} />}
      {report.trouble !== null && <p class="problem">{report.trouble}</p>}
      {report.refused.length > 0 && (
        <details open={state === 'done'}>
          <summary>What was refused, and why</summary>
          <ul class="hints">
            {report.refused.map(({ reason, words, count }) => (
              <li key={reason}>
                {count.toLocaleString('en-GB')} × {words}
              </li>
            ))}
          </ul>
          {report.examples.length > 0 && (
            <TableRoom label={`Refused rows of ${report.file}`}>
              <table>
                <thead>
                  <tr>
                    <th scope="col">Row</th>
                    <th scope="col">Why</th>
                    <th scope="col">As it stands</th>
                  </tr>
                </thead>
                <tbody>
                  {report.examples.map(({ row, reason, words, text }) => (
                    <tr key={`${String(row)} ${reason}`}>
                      <td>{row}</td>
                      <td>{words.split(':')[0]}</td>
                      <td>{text}</td>
                    </tr>
                  ))}
                </tbody>
              </table>
            </TableRoom>
          )}
        </details>
      )}
      {state === 'done' && report.stored + report.duplicates > 0 && (
        <p>
          <Go to={{ view: 'probes' }}>Place {report.mapping.probe} in a drum ›</Go>
        </p>
      )}
    </li>
  );
};
