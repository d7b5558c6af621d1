import { labelPath, recordPath } from '#contract';
import { Go } from '../go.tsx';
import './records.css';

/** The papers of a lot, one touch each. */
export const Papers = ({ lot, inside }: { readonly lot: string; readonly inside: boolean }) => (
  <nav class="papers" aria-label={`Papers of ${lot}`}>
    <a href={`/api${recordPath(lot, 'pdf')}`} target="_blank" rel="noopener">
      PDF
    </a>
    <a href={`/api${recordPath(lot, 'html')}`}>
      Self-checking file
    </a>
    <a href={`/api${recordPath(lot, 'csv')}`}>
      Table
    </a>
    <a href={`/api${recordPath(lot, 'json')}`} download={`record-${lot}.json`}>
      Data
    </a>
    {inside && (
      <>
        <a href={`/api${labelPath(lot)}`} target="_blank" rel="noopener">
          Labels
        </a>
        <Go to={{ view: 'trace', of: { kind: 'lot', id: lot } }}>Trace</Go>
        <Go to={{ view: 'inspect', lot }}>Page one</Go>
      </>
    )}
  </nav>
);
