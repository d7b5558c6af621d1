import { useEffect, useRef, useState } from 'preact/hooks';
import { dayMs, type Readings } from '#contract';
import type { DrumChart } from '../../charts/drum-chart.ts';
import { clockTime, dayMonth } from '../../format/time.ts';
import { inWords, showQuantity, toFahrenheit } from '../../format/units.ts';
import { channelLabel } from '../../state/probes/probe-words.ts';
import { TableRoom } from '../compare/table-room.tsx';
import { useScreen } from '../screen.ts';
import { themeColours } from '../theme-colours.ts';

const spans = { '24 h': dayMs, '7 days': 7 * dayMs, '30 days': 30 * dayMs } as const;
type SpanName = keyof typeof spans;
const rowsShown = 24;

/** What one channel of a probe has said, wherever it was; the numbers stand one touch further. */
export const ProbeHistory = ({ probe, channel, zone, lastAt }: { readonly probe: string; readonly channel: string; readonly zone: string; readonly lastAt: number }) => {
  const { call, clock, settings } = useScreen();
  const canvas = useRef<HTMLCanvasElement>(null);
  const chart = useRef<DrumChart | null>(null);
  const [ready, setReady] = useState(false);
  const [span, setSpan] = useState<SpanName>('7 days');
  const [readings, setReadings] = useState<{ readonly readings: Readings; readonly from: number; readonly to: number } | null>(null);
  const units = settings.units.value;
  const theme = settings.shownTheme.value;

  useEffect(() => {
    let gone = false;
    void import('../../charts/drum-chart.ts').then(({ createDrumChart }) => {
      if (gone || canvas.current === null) return;
      chart.current = createDrumChart(canvas.current);
      setReady(true);
    });
    return () => {
      gone = true;
      chart.current?.destroy();
      chart.current = null;
    };
  }, []);

  useEffect(() => {
    // What has been silent for long is shown at the time it spoke.
    const to = clock.now.peek() - lastAt > spans[span] ? lastAt + 60_000 : Math.max(clock.now.peek(), lastAt + 1);
    const from = to - spans[span];
    let gone = false;
    void call('probeReadings', { params: { probe }, query: { channel, from: String(Math.round(from)), to: String(Math.round(to)), points: 400 } }).then((answer) => {
      if (!gone && answer.ok) setReadings({ readings: answer.value, from, to });
    });
    return () => {
      gone = true;
    };
  }, [call, clock, probe, channel, span, lastAt]);

  useEffect(() => {
    if (!ready || readings === null) return;
    const { unit } = showQuantity(0, readings.readings.unit, units);
    const toF = readings.readings.unit === 'Cel' && units.temperature === 'F';
    chart.current?.show({ ...readings, now: clock.now.peek(), zone, band: { low: null, high: null }, marks: [], convert: toF ? toFahrenheit : (value) => value, unit: unit === 'pH' || unit === '/' ? '' : unit }, themeColours());
  }, [ready, readings, clock, units, theme, zone]);

  const words = (value: number): string => inWords(showQuantity(value, readings?.readings.unit ?? '', units));
  const points = readings?.readings.points ?? [];
  const step = Math.max(1, Math.ceil(points.length / rowsShown));
  const rows = points.filter((_, index) => index % step === 0);
  return (
    <div class="probe-history">
      <div class="tabs" role="group" aria-label="Time shown">
        {(Object.keys(spans) as SpanName[]).map((name) => (
          <button key={name} type="button" aria-pressed={name === span} onClick={() => setSpan(name)}>
            {name}
          </button>
        ))}
      </div>
      <div class="probe-canvas">
        <canvas ref={canvas} role="img" aria-label={`${channelLabel(channel)} of ${probe}; the numbers stand below`} />
        {points.length === 0 && readings !== null && <p class="chart-empty">Nothing good was read in this time.</p>}
      </div>
      <details>
        <summary>The numbers</summary>
        <TableRoom label={`Numbers of ${probe}`}>
          <table>
            <thead>
              <tr>
                <th scope="col">When</th>
                <th scope="col">Mean</th>
                <th scope="col">Lowest</th>
                <th scope="col">Highest</th>
                <th scope="col">Readings</th>
              </tr>
            </thead>
            <tbody>
              {rows.map(({ t, mean, min, max, count }) => (
                <tr key={t}>
                  <td>
                    {dayMonth(t, zone)} {clockTime(t, zone)}
                  </td>
                  <td>{words(mean)}</td>
                  <td>{words(min)}</td>
                  <td>{words(max)}</td>
                  <td>{count}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </TableRoom>
      </details>
    </div>
  );
};
