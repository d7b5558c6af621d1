import { useRef, useState } from 'preact/hooks';
import './copy-line.css';

/** A line to copy. Without a clipboard (a page that is not served securely) the line is selected instead. */
export const CopyLine = ({ line, label }: { readonly line: string; readonly label: string }) => {
  const [said, setSaid] = useState('');
  const code = useRef<HTMLElement>(null);
  const select = (): void => {
    if (code.current !== null) getSelection()?.selectAllChildren(code.current);
    setSaid('selected: copy it with the keyboard');
  };
  const copy = (): void => {
    const clipboard = (navigator as { clipboard?: Clipboard }).clipboard;
    if (clipboard === undefined) select();
    else clipboard.writeText(line).then(() => setSaid('copied'), select);
  };
  return (
    <div class="copy-line">
      <code ref={code} aria-label={label}>
        {line}
      </code>
      <button type="button" class="quiet" onClick={copy}>
        Copy
      </button>
      <span role="status">{said}</span>
    </div>
  );
};
