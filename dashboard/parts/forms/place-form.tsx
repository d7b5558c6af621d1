import { useCallback, useEffect, useState } from 'preact/hooks';
import type { Drum, Probe } from '#contract';
import { channels } from '#contract';
import { age } from '../../format/age.ts';
import { inWords, showQuantity } from '../../format/units.ts';
import { qualityWord } from '../../state/value.ts';
import { useScreen } from '../screen.ts';
import { failureWords } from './form-frame.ts';
import { useWhen, WhenField } from './when-field.tsx';

const labelOf = (channel: string): string => (channel in channels ? channels[channel as keyof typeof channels].label : channel);

/** Which probe watches this drum, and from when; it may lie in the past, to claim readings already stored. */
export const PlaceForm = ({ drum, zone, onPlaced }: { readonly drum: Pick<Drum, 'id' | 'name'>; readonly zone: string; readonly onPlaced: () => void }) => {
  const { call, settings } = useScreen();
  const [probes, setProbes] = useState<readonly Probe[] | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const { when, setWhen, time } = useWhen(zone);

  const load = useCallback(async (): Promise<void> => {
    const answer = await call('probes');
    if (answer.ok) setProbes(answer.value.probes);
    else setProblem(failureWords(answer.error));
  }, [call]);
  useEffect(() => void load(), [load]);

  const place = async (probe: string, channel: string, to: string | null): Promise<void> => {
    const from = time();
    if (from === null) return;
    setBusy(true);
    const answer = await call('place', { params: { probe }, body: { channel, drum: to, ...(when.choice !== 'just now' && { from }) } });
    setBusy(false);
    if (!answer.ok) setProblem(failureWords(answer.error));
    else {
      await load();
      onPlaced();
    }
  };

  return (
    <div class="act-form">
      {probes === null && problem === null && <p class="dim">Looking for probes …</p>}
      {probes?.length === 0 && <p>No probe has been heard yet. The first-steps page shows the line that sends a reading.</p>}
      <WhenField when={when} setWhen={setWhen} />
      <ul class="probe-list">
        {(probes ?? []).flatMap((probe) =>
          probe.channels.map((channel) => {
            const here = channel.placement?.drum === drum.id;
            const { last } = channel;
            return (
              <li key={`${probe.id}/${channel.channel}`}>
                <p>
                  <b>{probe.id}</b> {labelOf(channel.channel)}
                  <br />
                  <span class="dim">
                    {last === null ? 'no reading yet' : `${inWords(showQuantity(last.value, channel.unit, settings.units.value))}, ${age(last.ageS * 1_000)} ago${last.quality === 'good' ? '' : `, ${qualityWord(last.quality)}`}`}
                    {' · '}
                    {here ? 'watches this drum' : channel.placement === null ? 'not placed' : `watches ${channel.placement.drum}`}
                  </span>
                </p>
                <button type="button" class={here ? 'quiet' : 'main-act'} disabled={busy} onClick={() => void place(probe.id, channel.channel, here ? null : drum.id)}>
                  {here ? 'Take out' : 'Place here'}
                </button>
              </li>
            );
          }),
        )}
      </ul>
      {problem !== null && (
        <p class="problem" role="alert">
          {problem}
        </p>
      )}
    </div>
  );
};
