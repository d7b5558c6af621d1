import type { Drum } from '#contract';
import { useScreen } from '../screen.ts';

/** Drums that nothing is in, and the one that was chosen before where this is a correction. */
export const useEmptyDrums = (before: string | null = null): readonly Drum[] =>
  useScreen().wall.wall.value?.drums.filter(({ id, batch }) => id === before || batch === null || batch.jarredAt !== null) ?? [];

interface ChooseDrumProps {
  readonly legend: string;
  readonly drums: readonly Drum[];
  readonly chosen: string | null;
  readonly onChoose: (drum: string | null) => void;
  /** What no drum means, where that is a choice. */
  readonly none?: string;
}

/** One of the empty drums, each a large target. */
export const ChooseDrum = ({ legend, drums, chosen, onChoose, none }: ChooseDrumProps) => (
  <fieldset class="choice">
    <legend>{legend}</legend>
    {drums.length === 0 && <p class="dim">No drum is empty now.</p>}
    {drums.map(({ id, name, volumeL }) => (
      <label key={id}>
        <input type="radio" name="drum" checked={chosen === id} onChange={() => onChoose(id)} />
        <span>
          {name}, {volumeL} L
        </span>
      </label>
    ))}
    {none !== undefined && (
      <label>
        <input type="radio" name="drum" checked={chosen === null} onChange={() => onChoose(null)} />
        <span>{none}</span>
      </label>
    )}
  </fieldset>
);
