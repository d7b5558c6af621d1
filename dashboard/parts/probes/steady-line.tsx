import { settleMs, steadiness, type Sample } from '../../state/probes/steady.ts';

interface SteadyLineProps {
  readonly samples: readonly Sample[];
  readonly within: number;
  readonly show: (value: number) => string;
  readonly onTake: (value: number) => void;
  readonly intervalS: number | null;
}

/** The live value, how long it has held still, and one key that takes it over. */
export const SteadyLine = ({ samples, within, show, onTake, intervalS }: SteadyLineProps) => {
  const last = samples.at(-1);
  const { isSteady, heldMs } = steadiness(samples, within);
  if (last === undefined) return <p class="dim">Waiting for the probe …</p>;
  return (
    <div class="steady" data-steady={isSteady}>
      <p>
        <b>{show(last.value)}</b> <span role="status">{isSteady ? 'steady' : `settling, ${String(Math.floor(heldMs / 1_000))} of ${String(settleMs / 1_000)} s`}</span>
      </p>
      <progress max={settleMs} value={Math.min(heldMs, settleMs)} aria-label="Held still" />
      <button type="button" class={isSteady ? 'main-act' : 'quiet'} onClick={() => onTake(last.value)}>
        {isSteady ? 'Take it' : 'Take it unsteady'}
      </button>
      {intervalS !== null && intervalS > 30 && <p class="dim">This probe speaks every {intervalS < 90 ? `${String(intervalS)} s` : `${String(Math.round(intervalS / 60))} min`}: let it speak faster meanwhile, or read its own display and type.</p>}
    </div>
  );
};
