const keys = ['1', '2', '3', '4', '5', '6', '7', '8', '9', '.', '0', '⌫'];
const keyWords: Readonly<Record<string, string>> = { '.': 'point', '⌫': 'rub out' };

/** Large keys for a number; the keyboard does the same. */
export const KeyPad = ({ onPress }: { readonly onPress: (key: string) => void }) => (
  <div class="key-pad" role="group" aria-label="Number keys">
    {keys.map((key) => (
      <button key={key} type="button" aria-label={keyWords[key]} onClick={() => onPress(key)}>
        {key}
      </button>
    ))}
  </div>
);
