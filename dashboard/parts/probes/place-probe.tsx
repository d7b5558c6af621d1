import { useState } from 'preact/hooks';
import type { Drum } from '#contract';
import { channelLabel, placingHints } from '../../state/probes/probe-words.ts';
import type { ProbeSeen } from '../../state/probes/probes.ts';
import { failureWords } from '../forms/form-frame.ts';
import { useWhen, WhenField } from '../forms/when-field.tsx';
import { useScreen } from '../screen.ts';

interface PlaceProbeProps {
  readonly probe: ProbeSeen;
  readonly channel: string;
  readonly probes: readonly ProbeSeen[];
  readonly drums: readonly Pick<Drum, 'id' | 'name'>[];
  readonly zone: string;
  readonly onDone: () => void;
}

/** Which drum it watches, and from when: a time in the past claims what is stored already. The drum keeps the story its old probe told. */
export const PlaceProbe = ({ probe, channel, probes, drums, zone, onDone }: PlaceProbeProps) => {
  const { call } = useScreen();
  const here = probe.channels.find((each) => each.channel === channel)?.placement ?? null;
  const [drum, setDrum] = useState<string | null>(here?.drum ?? null);
  const [problem, setProblem] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const { when, setWhen, time } = useWhen(zone);
  const before = drum === null ? [] : probes.filter((other) => other.id !== probe.id && other.channels.some((each) => each.channel === channel && each.placement?.drum === drum));
  const [keepsBoth, setKeepsBoth] = useState(false);

  const place = async (to: string | null): Promise<void> => {
    const from = when.choice === 'just now' ? undefined : time();
    if (from === null) return;
    setBusy(true);
    setProblem(null);
    const at = from === undefined ? {} : { from };
    const placed = await call('place', { params: { probe: probe.id }, body: { channel, drum: to, ...at } });
    const others = placed.ok && to !== null && !keepsBoth ? before : [];
    // The old one watches until the new one does, so that no minute is lost between the two.
    const since = placed.ok ? placed.value.from : '';
    for (const other of others) {
      const left = await call('place', { params: { probe: other.id }, body: { channel, drum: null, from: since } });
      if (!left.ok) setProblem(`${other.id} could not be taken out. ${failureWords(left.error)}`);
    }
    setBusy(false);
    if (placed.ok) onDone();
    else setProblem(failureWords(placed.error));
  };

  return (
    <form
      class="act-form"
      onSubmit={(event) => {
        event.preventDefault();
        if (drum !== null) void place(drum);
      }}
    >
      <fieldset class="choice drums-choice">
        <legend>Which drum its {channelLabel(channel)} watches</legend>
        {drums.map(({ id, name }) => (
          <label key={id}>
            <input type="radio" name="drum" checked={id === drum} onChange={() => setDrum(id)} />
            <span>{name}</span>
          </label>
        ))}
      </fieldset>
      <WhenField when={when} setWhen={setWhen} />
      <p class="dim">A time in the past takes in what it has already said since then.</p>
      {before.length > 0 && (
        <>
          <p class="caution">
            {before.map(({ id }) => id).join(', ')} watches this drum. {probe.id} takes over from this time on; what was read before stays with the drum.
          </p>
          <label class="check">
            <input type="checkbox" checked={keepsBoth} onChange={(event) => setKeepsBoth(event.currentTarget.checked)} />
            Both stay in the drum; the newer one is believed
          </label>
        </>
      )}
      {problem !== null && <p class="problem" role="alert">{problem}</p>}
      <button type="submit" class="main-act large" disabled={busy || drum === null || drum === here?.drum}>
        {before.length > 0 && !keepsBoth ? `Replace ${before.map(({ id }) => id).join(', ')}` : 'Place it here'}
      </button>
      {here !== null && (
        <button type="button" class="quiet" disabled={busy} onClick={() => void place(null)}>
          Take it out of {drums.find(({ id }) => id === here.drum)?.name ?? here.drum}
        </button>
      )}
      <details open={here === null}>
        <summary>Where in the drum</summary>
        <ul class="hints">
          {placingHints.map((hint) => (
            <li key={hint}>{hint}</li>
          ))}
        </ul>
      </details>
    </form>
  );
};
