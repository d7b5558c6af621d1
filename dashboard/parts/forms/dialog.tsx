import type { ComponentChildren } from 'preact';
import { useEffect, useId, useRef } from 'preact/hooks';

/** A modal sheet while it stands on the page: the browser keeps the keyboard inside, closes it with Escape and gives the focus back. */
export const Dialog = ({ title, aside, onClose, children }: { readonly title: string; readonly aside?: string; readonly onClose: () => void; readonly children: ComponentChildren }) => {
  const dialog = useRef<HTMLDialogElement>(null);
  const id = useId();
  useEffect(() => {
    const shown = dialog.current;
    shown?.showModal();
    return () => shown?.close();
  }, []);
  return (
    <dialog ref={dialog} class="sheet" aria-labelledby={id} onClose={onClose}>
      <div class="sheet-head">
        <h2 id={id}>{title}</h2>
        {aside !== undefined && <p class="dim">{aside}</p>}
        <button type="button" class="quiet" onClick={onClose}>
          Close
        </button>
      </div>
      {children}
    </dialog>
  );
};
