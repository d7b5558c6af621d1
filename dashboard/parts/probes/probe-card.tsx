import { useState } from 'preact/hooks';
import { pastMoment } from '../../format/time.ts';
import { clockHint } from '../../state/probes/clock-words.ts';
import { channelLabel, electrodeWords, isAirOnly, isOfDrum, isPlaced, lastWords, paceWords, probeFlag, signsOnce } from '../../state/probes/probe-words.ts';
import type { ProbeSeen } from '../../state/probes/probes.ts';
import { Go } from '../go.tsx';
import { Mark } from '../mark.tsx';
import { useScreen } from '../screen.ts';
import { ProbeHistory } from './probe-history.tsx';

export type ProbeSheet = { readonly sheet: 'place'; readonly channel: string } | { readonly sheet: 'ph' } | { readonly sheet: 'ice' } | { readonly sheet: 'password' };

interface ProbeCardProps {
  readonly probe: ProbeSeen;
  readonly zone: string;
  readonly drumName: (id: string) => string;
  /** How old the answer is that this was drawn from. */
  readonly sinceAskedMs: number;
  readonly onOpen: (sheet: ProbeSheet) => void;
}

/** One probe: where it is, what it says, how it does, and what to do about it. */
export const ProbeCard = ({ probe, zone, drumName, sinceAskedMs, onOpen }: ProbeCardProps) => {
  const { clock, session, settings } = useScreen();
  const units = settings.units.value;
  const [shown, setShown] = useState<string | null>(null);
  const flag = probeFlag(probe);
  const placed = isPlaced(probe);
  const ofDrum = probe.channels.filter(isOfDrum);
  const ofProbe = probe.channels.filter((channel) => !isOfDrum(channel));
  const electrode = electrodeWords(probe.about);
  const measures = (names: readonly string[]): boolean => probe.channels.some(({ channel }) => names.includes(channel));
  const now = clock.now.peek();
  const wrong = clockHint(probe.clock, now);
  const history = probe.channels.find(({ channel }) => channel === shown);
  return (
    <li class="probe-card" data-placed={placed || isAirOnly(probe)} aria-labelledby={`probe-${probe.id}`}>
      <header>
        <h3 id={`probe-${probe.id}`}>{probe.id}</h3>
        <p class="probe-state" data-state={flag.state}>
          <Mark state={flag.state} /> {flag.word}
        </p>
      </header>
      {ofDrum.length > 0 && (
        <ul class="probe-channels">
          {ofDrum.map((channel) => {
            const last = lastWords(channel, units, sinceAskedMs);
            return (
              <li key={channel.channel}>
                <p class="probe-value" data-old={channel.last === null || channel.last.quality !== 'good' || flag.word === 'silent' || probe.about.isFromFile}>
                  <b>{last.value}</b>
                  <span>
                    {channelLabel(channel.channel)}
                    <small>{last.when}</small>
                  </span>
                </p>
                <p class="probe-place">
                  {channel.placement === null ? (
                    channel.channel === 'air-temperature' ? 'the whole shed' : 'not placed'
                  ) : (
                    <>
                      <Go to={{ view: 'drum', drum: channel.placement.drum }}>{drumName(channel.placement.drum)}</Go>
                      <small>since {pastMoment(Date.parse(channel.placement.from), now, zone)}</small>
                    </>
                  )}
                </p>
                {session.mayWork.value && (
                  <button type="button" class={channel.placement === null && !placed && channel.channel !== 'air-temperature' ? 'main-act' : 'quiet'} onClick={() => onOpen({ sheet: 'place', channel: channel.channel })}>
                    {channel.placement === null ? 'Place' : 'Move'}
                    <span class="hidden-words">
                      {' '}
                      {probe.id}, {channelLabel(channel.channel)}
                    </span>
                  </button>
                )}
              </li>
            );
          })}
        </ul>
      )}
      {wrong !== null && (
        <div class="probe-sign" data-state="caution">
          <Mark state="caution" />
          <p>
            <b>{wrong.title}.</b> {wrong.hint}
          </p>
        </div>
      )}
      {signsOnce(probe.about.signs).map(({ kind, state, title, hint, channel }) => (
        <div key={`${kind} ${channel}`} class="probe-sign" data-state={state}>
          <Mark state={state} />
          <p>
            <b>{title}.</b> {hint}
          </p>
        </div>
      ))}
      <p class="dim">
        {[
          paceWords(probe.about),
          ...(probe.presence === 'unknown' ? [] : [probe.presence === 'online' ? 'connected' : 'not connected']),
          ...ofProbe.map((channel) => `${channelLabel(channel.channel).replace(', share of full', '')} ${lastWords(channel, units, sinceAskedMs).value}`),
          ...(electrode === null ? [] : [electrode]),
          ...(probe.about.icePointOffC === null ? [] : [`in ice ${probe.about.icePointOffC.toFixed(1).replace('-', '−')} °C off`]),
        ].join(' · ')}
      </p>
      <div class="probe-acts">
        {session.mayWork.value && measures(['ph', 'ph-mv']) && (
          <button type="button" onClick={() => onOpen({ sheet: 'ph' })}>
            Calibrate pH
          </button>
        )}
        {session.mayWork.value && measures(['temperature', 'air-temperature']) && (
          <button type="button" onClick={() => onOpen({ sheet: 'ice' })}>
            Ice point
          </button>
        )}
        {probe.channels.map(({ channel }) => (
          <button key={channel} type="button" aria-expanded={shown === channel} onClick={() => setShown(shown === channel ? null : channel)}>
            {probe.channels.length === 1 ? 'History' : channelLabel(channel)}
            <span class="hidden-words"> of {probe.id}</span>
          </button>
        ))}
        {session.isOwner.value && (
          <button type="button" class="quiet" onClick={() => onOpen({ sheet: 'password' })}>
            {probe.hasPassword ? 'Password: set' : 'Password'}
            <span class="hidden-words"> of {probe.id}</span>
          </button>
        )}
      </div>
      {history !== undefined && <ProbeHistory key={history.channel} probe={probe.id} channel={history.channel} zone={zone} lastAt={history.last === null ? now : Date.parse(history.last.at)} />}
      {probe.about.placements.length > 1 && (
        <details>
          <summary>Where it was</summary>
          <ol>
            {probe.about.placements.map(({ channel, drum, from }) => (
              <li key={`${channel} ${from}`}>
                {pastMoment(Date.parse(from), now, zone)}: {drum === null ? 'taken out' : drumName(drum)} <span class="dim">({channelLabel(channel)})</span>
              </li>
            ))}
          </ol>
        </details>
      )}
    </li>
  );
};
