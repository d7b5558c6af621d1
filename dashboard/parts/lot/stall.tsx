import { useEffect, useState } from 'preact/hooks';
import { dayMs, type Stall } from '#contract';
import type { Failure } from '../../client/call.ts';
import { dayMonth, localField, weekdayShort } from '../../format/time.ts';
import { Go } from '../go.tsx';
import { useScreen } from '../screen.ts';

interface StallProps {
  readonly zone: string;
  readonly nameOf: (drum: string) => string;
}

const weeksAhead = 6;
const word = { p80: 'likely', p50: 'may be', no: 'not', unknown: 'unknown' } as const satisfies Record<Stall['curing'][number]['onTheTable'], string>;

/** From a stall date backwards: the three days that count, and which lots are on the table. */
export const StallSection = ({ zone, nameOf }: StallProps) => {
  const { call, clock } = useScreen();
  const now = clock.now.peek();
  const [date, setDate] = useState(() => localField(now + weeksAhead * 7 * dayMs, zone).slice(0, 10));
  const [stall, setStall] = useState<Stall | null>(null);
  const [failure, setFailure] = useState<Failure | null>(null);
  useEffect(() => {
    let current = true;
    if (date === '') return undefined;
    void call('stall', { query: { date } }).then((answer) => {
      if (!current) return;
      setFailure(answer.ok ? null : answer.error);
      setStall(answer.ok ? answer.value : null);
    });
    return () => {
      current = false;
    };
  }, [call, date]);
  const day = (at: string): string => `${weekdayShort(Date.parse(at), zone)} ${dayMonth(Date.parse(at), zone)}`;
  return (
    <section class="stall" aria-labelledby="stall-title">
      <h2 id="stall-title">Back from the stall date</h2>
      <label class="field">
        Stall on
        <input type="date" min={localField(now, zone).slice(0, 10)} value={date} onInput={(event) => setDate(event.currentTarget.value)} />
      </label>
      {failure !== null && <p class="problem" role="alert">{failure.detail}</p>}
      {stall !== null && (
        <>
          <ol class="stall-days">
            <li>
              <b>{day(stall.finishBy)}</b> <span>the cure is finished</span>
            </li>
            <li>
              <b>{day(stall.jarBy)}</b> <span>jars are filled</span>
            </li>
            <li>
              <b>{day(stall.releaseBy)}</b> <span>their pH agrees, the lot is released, the rest begins</span>
            </li>
          </ol>
          <ul class="stall-lots">
            {stall.inJars.map(({ lot, left, text }) => (
              <li key={lot}>
                <Go to={{ view: 'batch', lot }}>{lot}</Go>
                <b>{left} jars</b> <span>{text}</span>
              </li>
            ))}
            {stall.curing.map(({ lot, drum, onTheTable, spareDays, text }) => (
              <li key={lot}>
                <Go to={{ view: 'batch', lot }}>{lot}</Go>
                <b>{word[onTheTable]}</b>
                <span>
                  {nameOf(drum)}: {text}
                  {spareDays !== null && ` (${spareDays >= 0 ? `${spareDays.toFixed(0)} days to spare` : `${(-spareDays).toFixed(0)} days too late`} by the likely day)`}
                </span>
              </li>
            ))}
          </ul>
          {stall.inJars.length + stall.curing.length === 0 && <p>There is no lot that could stand there yet.</p>}
          <p class="dim">Counted with two weeks of rest, a week until the pH of the jars agrees, and a day to fill them. {stall.caution}</p>
        </>
      )}
    </section>
  );
};
