import { useEffect, useState } from 'preact/hooks';
import type { Ribbon as RibbonData, WhatIfAnswer } from '#contract';
import { dayMonth, daySpan } from '../../format/time.ts';
import type { UnitChoice } from '../../format/units.ts';
import { ghostOn, outlookSpan, whatIfRange, whatIfTitle, type WhatIf } from '../../state/what-ifs.ts';
import { TableRoom } from '../compare/table-room.tsx';
import { useScreen } from '../screen.ts';
import { CalendarAxis } from './calendar-axis.tsx';
import { Ribbon } from './ribbon.tsx';
import './outlook.css';

interface OutlookProps {
  readonly lot: string;
  readonly ribbon: RibbonData;
  readonly now: number;
  readonly zone: string;
  readonly units: UnitChoice;
  /** Grows when the forecast may be another. */
  readonly turn: number;
}

/** The cure of one drum as a ribbon, and what becomes of its end if something turns out otherwise: a range a touch, under the ribbon. */
export const Outlook = ({ lot, ribbon, now, zone, units, turn }: OutlookProps) => {
  const { call } = useScreen();
  const [answer, setAnswer] = useState<WhatIfAnswer | null>(null);
  const [shown, setShown] = useState<ReadonlySet<string>>(new Set());
  const known = ribbon.jarredAt === null && 'readyLikely' in ribbon.forecast ? ribbon.forecast : null;

  const likely = known?.readyLikely ?? null;
  useEffect(() => {
    if (likely === null) return undefined;
    let gone = false;
    void call('whatIf', { params: { lot } }).then((got) => {
      // What was foreseen before stands until there is something newer.
      if (!gone && got.ok) setAnswer(got.value);
    });
    return () => {
      gone = true;
    };
  }, [call, lot, likely, turn]);

  const whatIfs = known === null ? [] : (answer?.whatIfs ?? []);
  const chosen = whatIfs.filter(({ title }) => shown.has(title));
  const span = outlookSpan(ribbon, whatIfs, now);
  const toggle = (title: string): void => {
    const next = new Set(shown);
    if (!next.delete(title)) next.add(title);
    setShown(next);
  };

  return (
    <section class="outlook" aria-labelledby="outlook-title">
      <h2 id="outlook-title">{ribbon.jarredAt === null ? 'When it may be sweet' : 'The cure'}</h2>
      {known !== null && (
        <p>
          <b>Likely {dayMonth(Date.parse(known.readyLikely), zone)}</b>, range {daySpan(Date.parse(known.readyFrom), Date.parse(known.readyTo), zone)}. <span class="dim">Basis: {known.basis}.</span>
        </p>
      )}
      {ribbon.jarredAt === null && 'unknown' in ribbon.forecast && <p>No day yet: {ribbon.forecast.unknown}.</p>}
      <div class="outlook-picture">
        <div class="outlook-ribbon">
          <Ribbon ribbon={ribbon} span={span} now={now} zone={zone} textPx={16} words={false} />
        </div>
        {chosen.length > 0 && (
          <ul class="ghosts" aria-label="What if">
            {chosen.map((each) => (
              <GhostLane key={each.title} whatIf={each} span={span} now={now} zone={zone} units={units} />
            ))}
          </ul>
        )}
        <CalendarAxis span={span} now={now} zone={zone} textPx={16} />
      </div>
      {whatIfs.length > 0 && (
        <>
          <div class="what-ifs" role="group" aria-label="What if">
            <span class="what-ifs-lead" aria-hidden="true">What if:</span>
            {whatIfs.map((each) => (
              <button key={each.title} type="button" aria-pressed={shown.has(each.title)} onClick={() => toggle(each.title)}>
                {whatIfTitle(each, units)}
              </button>
            ))}
          </div>
          <details class="outlook-numbers">
            <summary>Show the numbers</summary>
            <TableRoom label="What if, in numbers">
              <table>
                <thead>
                  <tr>
                    <th scope="col">What if</th>
                    <th scope="col">from</th>
                    <th scope="col">likely</th>
                    <th scope="col">to</th>
                    <th scope="col">later, days</th>
                  </tr>
                </thead>
                <tbody>
                  <NumberRow title="As planned" forecast={answer?.asPlanned ?? ribbon.forecast} laterDays={null} zone={zone} />
                  {whatIfs.map((each) => (
                    <NumberRow key={each.title} title={whatIfTitle(each, units)} forecast={each.forecast} laterDays={each.laterDays} zone={zone} />
                  ))}
                </tbody>
              </table>
            </TableRoom>
            <p class="dim">{answer?.source}</p>
          </details>
        </>
      )}
    </section>
  );
};

const GhostLane = ({ whatIf, span, now, zone, units }: { readonly whatIf: WhatIf; readonly span: { readonly from: number; readonly to: number }; readonly now: number; readonly zone: string; readonly units: UnitChoice }) => {
  const ghost = ghostOn(whatIf, span);
  const today = (100 * (now - span.from)) / (span.to - span.from);
  return (
    <li>
      <p>
        <b>{whatIfTitle(whatIf, units)}:</b> {whatIfRange(whatIf, zone)}.
        {whatIf.caution !== null && <span class="ghost-caution"> {whatIf.caution}</span>}
      </p>
      <div class="ghost-strip" aria-hidden="true">
        <i class="ghost-now" style={{ left: `${String(today)}%` }} />
        {ghost !== null && <i class="ghost" data-open={ghost.open} style={{ left: `${String(ghost.from)}%`, width: `${String(Math.max(ghost.to - ghost.from, 0.6))}%` }} />}
        {ghost?.likely != null && <i class="ghost-likely" style={{ left: `${String(ghost.likely)}%` }} />}
      </div>
    </li>
  );
};

const NumberRow = ({ title, forecast, laterDays, zone }: { readonly title: string; readonly forecast: WhatIf['forecast']; readonly laterDays: number | null; readonly zone: string }) => (
  <tr>
    <th scope="row">{title}</th>
    {'unknown' in forecast ? (
      <td colSpan={4}>{forecast.unknown}</td>
    ) : (
      <>
        {[forecast.readyFrom, forecast.readyLikely, forecast.readyTo].map((at, column) => (
          <td key={String(column)}>{dayMonth(Date.parse(at), zone)}</td>
        ))}
        <td>{laterDays === null ? '' : laterDays.toFixed(1).replace('-', '−')}</td>
      </>
    )}
  </tr>
);
