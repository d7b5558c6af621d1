import type { Wall } from '#contract';
import { clockTime, dayMonth, longDay, weekdayShort } from '../format/time.ts';
import { inWords, showTemperature } from '../format/units.ts';
import { shown } from '../state/value.ts';
import { qualityOfAir } from '../state/air.ts';
import { Go } from './go.tsx';
import { Places } from './places.tsx';
import { useScreen } from './screen.ts';

/** Where, what the shed is like, how many drums need someone, and what time it is here. */
export const WallHead = ({ wall, short }: { readonly wall: Wall; readonly short: boolean }) => {
  const { settings, clock } = useScreen();
  const { alerts, dueToday, probes, probesSilent } = wall.counts;
  const air = shown(wall.air);
  const now = clock.now.value;
  const asked = wall.drums.flatMap(({ questions = [] }) => questions);
  return (
    <header class="wall-head">
      {short && <Places />}
      <h1>{wall.site.name}</h1>
      <ul class="counts">
        {air.kind !== 'absent' && air.value !== null && (
          <li class={air.kind === 'grey' ? 'not-current' : undefined}>
            shed air <b>{inWords(showTemperature(air.value, settings.units.value))}</b>
            {qualityOfAir(air, now, wall.site.zone)}
          </li>
        )}
        <li>
          <Go to={{ view: 'alerts', tab: 'now' }}>
            <b>{alerts}</b> {alerts === 1 ? 'alert' : 'alerts'}
          </Go>
        </li>
        <li>
          <b>{dueToday}</b> to do today
        </li>
        <li>{probeWords(probes, probesSilent)}</li>
        {asked[0] !== undefined && (
          <li>
            <Go to={{ view: 'drum', drum: asked[0].drum }}>{asked.length === 1 ? 'one question' : `${String(asked.length)} questions`}</Go>
          </li>
        )}
      </ul>
      <p class="clock">
        {short ? `${weekdayShort(now, wall.site.zone)} ${dayMonth(now, wall.site.zone)}` : longDay(now, wall.site.zone)} <b>{clockTime(now, wall.site.zone)}</b>
      </p>
    </header>
  );
};

export const probeWords = (probes: number, silent: number): string => {
  if (probes === 0) return 'no probe yet';
  if (silent === 0) return probes === 1 ? 'one probe, reporting' : 'all probes reporting';
  if (silent === probes) return 'no probe reporting';
  return silent === 1 ? 'all probes but one reporting' : `${String(probes - silent)} of ${String(probes)} probes reporting`;
};
