import { useEffect, useState } from 'preact/hooks';
import './undo.css';

/** What was just written, and ten seconds to take it back at a touch. Later it is corrected from the story. */
export interface Undoable {
  readonly sequence: number;
  readonly words: string;
}

const seconds = 10;

export const UndoBar = ({ done, onUndo, onGone }: { readonly done: Undoable; readonly onUndo: () => void; readonly onGone: () => void }) => {
  const [left, setLeft] = useState(seconds);
  useEffect(() => {
    setLeft(seconds);
    const ticking = setInterval(() => setLeft((before) => before - 1), 1_000);
    return () => clearInterval(ticking);
  }, [done.sequence]);
  useEffect(() => {
    if (left <= 0) onGone();
  }, [left, onGone]);
  return (
    <div class="undo">
      <p role="status">{done.words}</p>
      <button type="button" onClick={onUndo} aria-label="Undo">
        Undo <span aria-hidden="true">{Math.max(left, 0)}</span>
      </button>
    </div>
  );
};
