import { useEffect, useRef, useState } from 'preact/hooks';
import { hourMs, type BatchDetail, type Drum, type Readings } from '#contract';
import { bandOf, marksOf } from '../charts/batch-marks.ts';
import type { DrumChart } from '../charts/drum-chart.ts';
import { spreadOf } from '../charts/chart-data.ts';
import { clockTime, dayMonth } from '../format/time.ts';
import { inWords, showQuantity, toFahrenheit } from '../format/units.ts';
import { dragged, fit, presets, presetStretch, step, zoom, type Preset, type Stretch } from '../state/chart-range.ts';
import { useScreen } from './screen.ts';
import { themeColours } from './theme-colours.ts';
import './reading-chart.css';

interface ReadingChartProps {
  readonly drum: Drum;
  readonly batch: BatchDetail | null;
  readonly zone: string;
  /** Grows when there may be something new to draw. */
  readonly turn: number;
}

const tabs = { temperature: 'Temperature', ph: 'pH', salinity: 'Salt' } as const;
type Tab = keyof typeof tabs;
const tabNames = Object.keys(tabs) as Tab[];

/** The readings of a drum over time, with buttons, keys and a drag to look closer. */
export const ReadingChart = ({ drum, batch, zone, turn }: ReadingChartProps) => {
  const { call, clock, link, settings } = useScreen();
  const canvas = useRef<HTMLCanvasElement>(null);
  const chart = useRef<DrumChart | null>(null);
  const [ready, setReady] = useState(false);
  const [tab, setTab] = useState<Tab>('temperature');
  const [preset, setPreset] = useState<Preset | null>('7 days');
  const [kept, setKept] = useState<Stretch | null>(null);
  const [shown, setShown] = useState<{ readonly readings: Readings; readonly stretch: Stretch } | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const [drag, setDrag] = useState<{ readonly start: number; readonly end: number } | null>(null);

  const now = Math.floor(clock.now.peek() / 30_000) * 30_000 + 30_000;
  const bounds = { from: batch === null ? now - 7 * 24 * hourMs : Date.parse(batch.startedAt), to: batch?.jarredAt == null ? now : Date.parse(batch.jarredAt) };
  const stretch = preset === null && kept !== null ? fit(kept, bounds) : presetStretch(preset ?? 'whole cure', bounds);
  const { from, to } = stretch;
  const theme = settings.shownTheme.value;
  const units = settings.units.value;

  useEffect(() => {
    let gone = false;
    const draw = (): void => {
      import('../charts/drum-chart.ts').then(
        ({ createDrumChart }) => {
          if (gone || canvas.current === null || chart.current !== null) return;
          chart.current = createDrumChart(canvas.current);
          setReady(true);
        },
        // Without signal there is no chart to draw on: the words under it say what is known.
        () => undefined,
      );
    };
    draw();
    const stop = link.onRegained(draw);
    return () => {
      gone = true;
      stop();
      chart.current?.destroy();
      chart.current = null;
    };
  }, [link]);

  useEffect(() => {
    let gone = false;
    void call('readings', { params: { drum: drum.id }, query: { channel: tab, from: String(Math.round(from)), to: String(Math.round(to)), points: 900 } }).then((answer) => {
      if (gone) return;
      setProblem(answer.ok ? null : answer.error.detail);
      if (answer.ok) setShown({ readings: answer.value, stretch: { from, to } });
    });
    return () => {
      gone = true;
    };
  }, [call, drum.id, tab, from, to, turn]);

  useEffect(() => {
    if (!ready || shown === null) return;
    const toF = shown.readings.unit === 'Cel' && units.temperature === 'F';
    const { unit } = showQuantity(0, shown.readings.unit, units);
    chart.current?.show(
      { ...shown.stretch, now, zone, readings: shown.readings, band: bandOf(batch, tab), marks: marksOf(batch), convert: toF ? toFahrenheit : (value) => value, unit: unit === 'pH' ? '' : unit },
      themeColours(),
    );
  }, [ready, shown, now, batch, tab, theme, units, zone]);

  const look = (next: Stretch): void => {
    setPreset(null);
    setKept(next);
  };
  const onPlot = (event: PointerEvent): { readonly px: number; readonly width: number } | null => {
    const plot = chart.current?.plot();
    const box = canvas.current?.getBoundingClientRect();
    return plot === undefined || box === undefined ? null : { px: event.clientX - box.left - plot.left, width: plot.right - plot.left };
  };
  const spread = shown === null ? null : spreadOf(shown.readings);
  const words = (value: number): string => inWords(showQuantity(value, shown?.readings.unit ?? '', units));

  return (
    <section class="chart" aria-labelledby="chart-title">
      <div class="chart-head">
        <h2 id="chart-title" class="hidden-words">
          Readings
        </h2>
        <div class="tabs" role="group" aria-label="Quantity">
          {tabNames.map((name) => (
            <button key={name} type="button" aria-pressed={tab === name} onClick={() => setTab(name)}>
              {tabs[name]}
            </button>
          ))}
        </div>
        <div class="tabs" role="group" aria-label="Time shown">
          {presets.map((name) => (
            <button key={name} type="button" aria-pressed={preset === name} onClick={() => setPreset(name)}>
              {name}
            </button>
          ))}
        </div>
        <div class="tabs" role="group" aria-label="Look closer">
          <button type="button" aria-label="Earlier" onClick={() => look(step(stretch, -1, bounds))}>
            ‹
          </button>
          <button type="button" aria-label="Later" onClick={() => look(step(stretch, 1, bounds))}>
            ›
          </button>
          <button type="button" aria-label="Closer" onClick={() => look(zoom(stretch, 0.5, bounds))}>
            +
          </button>
          <button type="button" aria-label="Wider" onClick={() => look(zoom(stretch, 2, bounds))}>
            −
          </button>
        </div>
      </div>
      <div
        class="chart-canvas"
        onPointerDown={(event) => {
          const at = onPlot(event);
          if (at === null || !event.isPrimary || event.button !== 0) return;
          event.currentTarget.setPointerCapture(event.pointerId);
          setDrag({ start: at.px, end: at.px });
        }}
        onPointerMove={(event) => {
          const at = onPlot(event);
          if (drag !== null && at !== null) setDrag({ ...drag, end: at.px });
        }}
        onPointerUp={(event) => {
          const at = onPlot(event);
          const next = drag === null || at === null ? null : dragged(stretch, at.width, drag.start, at.px, bounds);
          setDrag(null);
          if (next !== null) look(next);
        }}
        onPointerCancel={() => setDrag(null)}
      >
        <canvas ref={canvas} role="img" aria-label={`${tabs[tab]} of ${drum.name}; the words below say the same in numbers`} />
        {drag !== null && <div class="chart-drag" style={{ left: `${String(Math.min(drag.start, drag.end) + (chart.current?.plot().left ?? 0))}px`, width: `${String(Math.abs(drag.end - drag.start))}px` }} />}
        {shown?.readings.points.length === 0 && <p class="chart-empty">No {tabs[tab] === 'pH' ? 'pH' : tabs[tab].toLowerCase()} readings of a probe in this time.</p>}
      </div>
      <p class="chart-words">
        {problem ??
          (spread === null
            ? ''
            : `${dayMonth(from, zone)} ${clockTime(from, zone)} to ${dayMonth(to, zone)} ${clockTime(to, zone)}: lowest ${words(spread.lowest)}, highest ${words(spread.highest)}, mean ${words(spread.mean)}, ${spread.count === 1 ? 'one reading' : `${spread.count.toLocaleString('en-GB')} readings`}${gapWords(shown?.readings.gaps.length ?? 0)}. Drag across the chart to look closer.`)}
      </p>
    </section>
  );
};

const gapWords = (gaps: number): string => (gaps === 0 ? '' : gaps === 1 ? ', one gap' : `, ${String(gaps)} gaps`);
