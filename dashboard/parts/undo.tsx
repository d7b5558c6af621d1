import { useEffect, useState } from 'preact/hooks';
import './undo.css';

/** What was just written, and ten seconds to take it back at a touch. Later it is corrected from the story. */
export interface Undoable {
  /** The mark of the act; a new one starts the ten seconds anew. */
  readonly key: string;
  readonly words: string;
}

const seconds = 10;

export const UndoBar = ({ done, onUndo, onGone }: { readonly done: Undoable; readonly onUndo: () => void; readonly onGone: () => void }) => {
  const [left, setLeft] = useState(seconds);
  useEffect(() => {
    setLeft(seconds);
    const ticking = setInterval(() => setLeft((before) => before - 1), 1_000);
    return () => clearInterval(ticking);
  }, [done.key]);
  useEffect(() => {
    if (left <= 0) onGone();
  }, [left, onGone]);
  return (
    <div class="undo">
      <p role="status">{done.words}</p>
      <button type="button" onClick={onUndo}>
        Undo <span aria-hidden="true">{Math.max(left, 0)}</span>
      </button>
    </div>
  );
};
