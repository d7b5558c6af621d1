import { useState } from 'preact/hooks';
import { keptSummary } from '../state/kept-summary.ts';
import { later } from './later.tsx';
import { useScreen } from './screen.ts';
import './kept.css';

/** The forms come with it: whoever only looks at the wall does not load them. */
const KeptDialog = later(async () => (await import('./kept-dialog.tsx')).KeptDialog);

/** Says what has not reached the journal yet, and what the page needs for it to get there. Nothing, while there is nothing. */
export const KeptNote = () => {
  const { link, queue, session } = useScreen();
  const [open, setOpen] = useState(false);
  const items = queue.kept.value;
  const lost = link.connection.value.state === 'lost';
  const words = keptSummary(items, { lost, lasting: queue.lasting.value, user: session.session.value?.user?.name ?? null });
  if (!session.mayWork.value || (words === null && !open)) return null;
  return (
    <>
      {words !== null && (
        <div class="kept" data-refused={queue.refused.value.length > 0 ? 'yes' : 'no'}>
          <p role="status">
            <b>{words.title}</b> {words.detail}
          </p>
          {items.length > 0 && (
            <button type="button" class="quiet" onClick={() => setOpen(true)}>
              Show
            </button>
          )}
        </div>
      )}
      {open && <KeptDialog onClose={() => setOpen(false)} />}
    </>
  );
};
