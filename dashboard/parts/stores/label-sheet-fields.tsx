import { sheetSizes, typedSheet, type SheetTexts } from '../../state/label-sheet.ts';
import { Options } from '../forms/options.tsx';

interface LabelSheetFieldsProps {
  /** Null: the usual sheet. */
  readonly texts: SheetTexts | null;
  readonly usual: SheetTexts;
  readonly onChange: (texts: SheetTexts | null) => void;
}

const words = { usual: '2 by 4 on A4', own: 'other sizes' } as const;

/** The sheet the labels are printed on: the usual one, or as its packet says. */
export const LabelSheetFields = ({ texts, usual, onChange }: LabelSheetFieldsProps) => {
  const typed = texts === null ? null : typedSheet(texts);
  return (
    <>
      <Options legend="Sheet of labels" name="label-sheet" options={['usual', 'own'] as const} words={words} chosen={texts === null ? 'usual' : 'own'} onChoose={(chosen) => onChange(chosen === 'own' ? usual : null)} />
      {texts !== null && (
        <div class="sheet-sizes">
          {sheetSizes.map(([name, label]) => (
            <label key={name} class="field">
              {label}
              <input type="text" inputMode="decimal" autocomplete="off" value={texts[name]} onInput={(event) => onChange({ ...texts, [name]: event.currentTarget.value })} />
            </label>
          ))}
        </div>
      )}
      {typed !== null && 'wrong' in typed && <p class="problem">{typed.wrong}</p>}
    </>
  );
};
