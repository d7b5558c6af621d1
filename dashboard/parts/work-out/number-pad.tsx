import { useState } from 'preact/hooks';
import { Dialog } from '../forms/dialog.tsx';

const keys = ['1', '2', '3', '4', '5', '6', '7', '8', '9', '.', '0', '⌫'];
const keyWords: Readonly<Record<string, string>> = { '.': 'point', '⌫': 'rub out', '±': 'above or below zero' };
const cupKeys = ['1/4', '1/3', '1/2', '2/3', '3/4'];

interface NumberPadProps {
  readonly title: string;
  readonly unit: string;
  readonly start: string;
  readonly cups: boolean;
  readonly signed: boolean;
  readonly fault: string | undefined;
  readonly onType: (text: string) => void;
  readonly onClose: () => void;
}

const after = (text: string, fresh: boolean, key: string): string => {
  if (key === '±') return text.startsWith('-') ? text.slice(1) : `-${text.replace('−', '')}`;
  if (key === '⌫') return fresh ? '' : text.slice(0, -1);
  if (key.includes('/')) return /^\d+$/.test(text) && !fresh ? `${text} ${key}` : key;
  return fresh ? key : text + key;
};

/** Large keys for one number. The first key replaces what stood there, as on a calculator. */
export const NumberPad = ({ title, unit, start, cups, signed, fault, onType, onClose }: NumberPadProps) => {
  const [text, setText] = useState(start);
  const [fresh, setFresh] = useState(true);
  const press = (key: string): void => {
    const next = after(text, fresh, key);
    setText(next);
    setFresh(false);
    onType(next);
  };
  return (
    <Dialog title={title} onClose={onClose}>
      <p class="typed-value" role="status">
        <b class={fresh ? 'fresh' : undefined}>{text === '' ? '–' : text}</b> {unit}
      </p>
      <p class={fault === undefined ? 'no-fault' : 'fault'} role="status">
        {fault}
      </p>
      {cups && (
        <div class="key-pad cup-keys" role="group" aria-label="Parts of a cup">
          {cupKeys.map((key) => (
            <button key={key} type="button" onClick={() => press(key)}>
              {key}
            </button>
          ))}
        </div>
      )}
      <div class="key-pad" role="group" aria-label="Number keys">
        {keys.map((key) => (
          <button key={key} type="button" aria-label={keyWords[key]} onClick={() => press(key)}>
            {key}
          </button>
        ))}
        {signed && (
          <button type="button" class="sign-key" aria-label={keyWords['±']} onClick={() => press('±')}>
            + / −
          </button>
        )}
      </div>
      <button type="button" class="main-act large" onClick={onClose}>
        Done
      </button>
    </Dialog>
  );
};
