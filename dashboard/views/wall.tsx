import { useComputed } from '@preact/signals';
import { useEffect, useState } from 'preact/hooks';
import { KeptNote } from '../parts/kept-note.tsx';
import { LostBanner } from '../parts/lost.tsx';
import { Notice } from '../parts/notice.tsx';
import { sharedSpan } from '../parts/ribbon/axis.ts';
import { CalendarAxis } from '../parts/ribbon/calendar-axis.tsx';
import { useScreen } from '../parts/screen.ts';
import { useAlertTone } from '../parts/use-alert-tone.ts';
import { useSize } from '../parts/use-size.ts';
import { WallFoot } from '../parts/wall-foot.tsx';
import { WallHead } from '../parts/wall-head.tsx';
import { WallRow } from '../parts/wall-row.tsx';
import { inOrder, isStanding } from '../state/alerts.ts';
import { pagesOf } from '../state/pages.ts';
import { troubleOf } from '../state/trouble.ts';
import { wallScale } from '../state/wall-scale.ts';
import './wall.css';

const turnMs = 20_000;
/** As high as the strip that says the wall is not live. */
const bannerPx = 56;

/** The wall: one row a drum, the whole cure at its right, readable from across the shed. */
export const WallView = () => {
  const { wall, clock, link, settings } = useScreen();
  const [holder, size] = useSize();
  const [page, setPage] = useState(0);
  const [paused, setPaused] = useState(false);
  const shown = wall.wall.value;
  const drums = shown?.drums ?? [];
  const failure = wall.failure.value;
  // Ages tick by the second; the calendar moves a pixel in an hour, so the ribbons are drawn anew once a minute.
  const minute = useComputed(() => Math.floor(clock.now.value / 60_000) * 60_000).value;
  const trouble = troubleOf({ connection: link.connection.value, failure, health: wall.health.value }, minute, shown?.site.zone ?? 'UTC');
  const live = trouble === null;
  const scale = wallScale({ width: size.width, height: size.height - (live ? 0 : bannerPx) }, drums.length);
  const pages = pagesOf(drums, scale.perPage, (drum) => inOrder(drum.alerts).some((alert) => isStanding(alert) && alert.priority !== 'note'));
  const current = page % pages.length;

  useEffect(() => {
    document.title = shown === null ? 'Brineward' : `${shown.site.name} · Brineward`;
  }, [shown]);

  useAlertTone(drums.flatMap(({ alerts }) => alerts));

  useEffect(() => {
    if (pages.length < 2 || paused) return undefined;
    const turning = setInterval(() => setPage((before) => before + 1), turnMs);
    return () => clearInterval(turning);
  }, [pages.length, paused]);

  if (shown === null && failure !== null) {
    return (
      <Notice title={failure.title} urgent>
        {failure.detail} This page tries again by itself.
      </Notice>
    );
  }

  const span = sharedSpan(drums.flatMap(({ ribbon }) => (ribbon === null ? [] : [ribbon])), minute);
  return (
    <div
      class="wall"
      ref={holder}
      data-kind={scale.kind}
      data-live={live ? 'yes' : 'no'}
      style={{ '--u': `${String(scale.unitPx)}px`, '--w': `${String(scale.columnPx)}px`, '--text': `${String(scale.textPx)}px`, '--row-height': `${String(scale.rowPx)}px` }}
    >
      {trouble !== null && <LostBanner trouble={trouble} />}
      {shown !== null && size.width > 0 && (
        <>
          <WallHead wall={shown} short={scale.kind === 'list'} />
          {scale.kind === 'list' && <KeptNote />}
          <main>
            <CalendarAxis span={span} now={minute} zone={shown.site.zone} textPx={Math.max(scale.textPx * 0.95, 13)} />
            {drums.length === 0 && <p class="no-drums">There is no drum in this shed yet.</p>}
            <ol class={pages.length > 1 ? 'rows turned' : 'rows'} key={current} aria-label="Drums">
              {(pages[current] ?? []).map((drum) => (
                <WallRow key={drum.id} drum={drum} span={span} minute={minute} zone={shown.site.zone} scale={scale} live={live} units={settings.units.value} />
              ))}
            </ol>
          </main>
          <WallFoot list={scale.kind === 'list'} page={current} pages={pages.length} paused={paused} onPause={() => setPaused(!paused)} onTurn={() => setPage(page + 1)} />
        </>
      )}
    </div>
  );
};
