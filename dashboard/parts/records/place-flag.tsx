import type { RecordListed } from '#contract';
import { placeMarks, placeWords } from '../../state/record-words.ts';
import { Mark } from '../mark.tsx';
import './records.css';

/** Where a lot stands: a word, a shape, and what stands behind it. */
export const PlaceFlag = ({ lot, zone }: { readonly lot: RecordListed; readonly zone: string }) => {
  const mark = placeMarks[lot.place];
  return (
    <p class="place-flag" data-mark={mark ?? 'none'}>
      <b>
        {mark !== null && <Mark state={mark} />} {lot.place}
      </b>
      <span>{placeWords(lot, zone)}</span>
    </p>
  );
};
