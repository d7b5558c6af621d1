import { useEffect, useState } from 'preact/hooks';
import type { Producer } from '#contract';
import { typedNumber } from '../../format/units.ts';
import { sheetTexts, typedSheet, type SheetTexts } from '../../state/label-sheet.ts';
import { failureWords } from '../forms/form-frame.ts';
import { useScreen } from '../screen.ts';
import { LabelSheetFields } from './label-sheet-fields.tsx';
import { ProductClassFields, type ProductClass } from './product-class.tsx';

const lines = [
  ['product', 'Name of the product'], ['name', 'Made by'], ['address', 'Address'], ['licence', 'Licence or registration number'], ['formula', 'Code of the recipe'], ['storage', 'How it is kept'], ['afterOpening', 'After opening'],
  ['origin', 'Origin, where it is asked for'], ['statement', 'A sentence that local law asks for'], ['webAddress', 'Web address of the records'],
] as const satisfies readonly (readonly [keyof Producer, string])[];

const orNull = (text: string | null): string | null => (text === null || text.trim() === '' ? null : text.trim());

/** What stands on labels and papers; the owner writes it. */
export const ProducerForm = () => {
  const { call } = useScreen();
  const [decided, setDecided] = useState<ProductClass | null>(null);
  const [isKnown, setIsKnown] = useState(false);
  const [sheet, setSheet] = useState<SheetTexts | null>(null);
  const [note, setNote] = useState('');
  const [texts, setTexts] = useState<Readonly<Record<string, string>>>({});
  const [months, setMonths] = useState('');
  const [weights, setWeights] = useState('');
  const [said, setSaid] = useState<string | null>(null);
  const take = (producer: Producer | null): void => {
    setIsKnown(true);
    setDecided(producer?.productClass ?? null);
    setSheet(producer?.sheet == null ? null : sheetTexts(producer.sheet));
    setTexts(Object.fromEntries(lines.map(([field]) => [field, producer?.[field] ?? ''])));
    setMonths(producer?.bestBeforeMonths == null ? '' : String(producer.bestBeforeMonths));
    setWeights((producer?.weights ?? []).map(({ jarMl, netG, drainedG }) => `${String(jarMl)} ${String(netG)} ${String(drainedG)}`).join('\n'));
  };
  useEffect(() => {
    void call('producer').then((answer) => {
      if (!answer.ok) return setSaid(failureWords(answer.error));
      take(answer.value.producer);
      setNote(answer.value.note);
      return undefined;
    });
  }, [call]);
  const typed = sheet === null ? { sheet: null } : typedSheet(sheet);
  const save = async (): Promise<void> => {
    const told = Object.fromEntries(lines.map(([field]) => [field, orNull(texts[field] ?? null)]));
    const rows = weights.split('\n').map((row) => row.trim().split(/[\s,;/]+/).map(Number)).filter((row) => row.length === 3);
    if ('wrong' in typed) return;
    const answer = await call('setProducer', {
      body: { ...told, productClass: decided === null ? null : { word: decided.word, by: orNull(decided.by), on: orNull(decided.on) }, sheet: typed.sheet, bestBeforeMonths: typedNumber(months), weights: rows.map(([jarMl = 0, netG = 0, drainedG = 0]) => ({ jarMl, netG, drainedG })) },
    });
    setSaid(answer.ok ? 'Kept.' : failureWords(answer.error));
    if (answer.ok) take(answer.value.producer);
  };
  return (
    <form
      class="act-form producer-form"
      onSubmit={(event) => {
        event.preventDefault();
        void save();
      }}
    >
      <p class="caution">{note}</p>
      {lines.map(([field, words]) => (
        <label key={field} class="field">
          {words}
          <input type="text" maxLength={300} value={texts[field] ?? ''} onInput={(event) => setTexts({ ...texts, [field]: event.currentTarget.value })} />
        </label>
      ))}
      <ProductClassFields decided={decided} onChange={setDecided} />
      <label class="field">
        Best before, months after packing: by tests, not by habit
        <input type="text" inputMode="numeric" value={months} onInput={(event) => setMonths(event.currentTarget.value)} />
      </label>
      <label class="field">
        Weights, a line each: jar in mL, net g, drained g (weigh a few)
        <textarea rows={3} value={weights} onInput={(event) => setWeights(event.currentTarget.value)} />
      </label>
      <LabelSheetFields texts={sheet} usual={sheetTexts(null)} onChange={setSheet} />
      <p role="status">{said}</p>
      <button type="submit" class="main-act large" disabled={!isKnown || 'wrong' in typed}>
        Keep
      </button>
    </form>
  );
};
