import type { RecordListed } from '#contract';
import { lotDates, lotFruit } from '../../state/record-words.ts';
import type { Lacks } from '../../state/records.ts';
import { Go } from '../go.tsx';
import { Papers } from './papers.tsx';
import { PlaceFlag } from './place-flag.tsx';

const firstLines = 2;

/** One lot among the records: where it stands, what its record lacks, its papers. */
export const LotRow = ({ lot, lacks, common, zone, onLook }: { readonly lot: RecordListed; readonly lacks: Lacks | undefined; readonly common: readonly string[]; readonly zone: string; readonly onLook: () => void }) => (
  <li class="record-row" aria-label={`Lot ${lot.lot}`}>
    <div>
      <h3>
        <Go to={{ view: 'batch', lot: lot.lot }}>{lot.lot}</Go>
      </h3>
      <p>{lotFruit(lot)}</p>
      <p class="dim">{lotDates(lot, zone)}</p>
    </div>
    <PlaceFlag lot={lot} zone={zone} />
    <div class="lacks">
      {lacks === undefined ? (
        <button type="button" class="quiet" onClick={onLook}>
          What is missing?
        </button>
      ) : (
        <LacksList lacks={lacks} common={common} />
      )}
    </div>
    <Papers lot={lot.lot} inside />
  </li>
);

const LacksList = ({ lacks, common }: { readonly lacks: Lacks; readonly common: readonly string[] }) => {
  if ('trouble' in lacks) return <p class="caution">{lacks.trouble}</p>;
  const lines = lacks.lines.filter((line) => !common.includes(line));
  if (lines.length === 0) return <p class="dim">{common.length === 0 ? 'Nothing missing that the record asks for.' : 'Nothing else missing.'}</p>;
  const more = lines.slice(firstLines);
  return (
    <>
      <p class="dim">Missing</p>
      <ul>
        {lines.slice(0, firstLines).map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
      {more.length > 0 && (
        <details>
          <summary>{more.length} more</summary>
          <ul>
            {more.map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
        </details>
      )}
    </>
  );
};
