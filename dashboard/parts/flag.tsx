import type { Drum } from '#contract';
import { inOrder, isUnseen } from '../state/alerts.ts';
import { Mark } from './mark.tsx';
import './flag.css';

/** One word, one shape, one colour. Only a state that needs someone fills it. */
export const Flag = ({ drum }: { readonly drum: Pick<Drum, 'flag' | 'alerts'> }) => {
  const unseen = inOrder(drum.alerts).some(isUnseen);
  return (
    <div class="flag" data-state={drum.flag.state}>
      <Mark state={drum.flag.state} />
      <span class="word">{drum.flag.word}</span>
      {unseen && <span class="unseen">unseen</span>}
    </div>
  );
};
