import type { ComponentChildren } from 'preact';
import { useEffect, useId, useRef } from 'preact/hooks';

/**
 * A modal sheet while it stands on the page: the browser keeps the keyboard inside, closes it with Escape and gives the focus back.
 * What is marked `data-first` is ready for Enter; a key held down from the screen before does not press it.
 */
export const Dialog = ({ title, aside, onClose, children }: { readonly title: string; readonly aside?: string; readonly onClose: () => void; readonly children: ComponentChildren }) => {
  const dialog = useRef<HTMLDialogElement>(null);
  const leaving = useRef(false);
  const id = useId();
  useEffect(() => {
    const shown = dialog.current;
    shown?.showModal();
    shown?.querySelector<HTMLElement>('[data-first]:not(:disabled)')?.focus({ preventScroll: true });
    return () => {
      // Closed because something else takes its place: nobody closed it.
      leaving.current = true;
      shown?.close();
    };
  }, []);
  return (
    <dialog
      ref={dialog}
      class="sheet"
      aria-labelledby={id}
      onClose={() => {
        if (!leaving.current) onClose();
      }}
      onKeyDown={(event) => {
        if (event.repeat && event.key === 'Enter') event.preventDefault();
      }}
    >
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
