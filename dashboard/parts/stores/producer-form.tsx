import { useEffect, useState } from 'preact/hooks';
import type { Producer } from '#contract';
import { typedNumber } from '../../format/units.ts';
import { failureWords } from '../forms/form-frame.ts';
import { useScreen } from '../screen.ts';

const lines = [
  ['product', 'Name of the product'], ['name', 'Made by'], ['address', 'Address'], ['licence', 'Licence or registration number'], ['formula', 'Code of the recipe'], ['storage', 'How it is kept'], ['afterOpening', 'After opening'],
  ['origin', 'Origin, where it is asked for'], ['statement', 'A sentence that local law asks for'], ['webAddress', 'Web address of the records'],
] as const satisfies readonly (readonly [keyof Producer, string])[];

/** What stands on labels and papers; the owner writes it. */
export const ProducerForm = () => {
  const { call } = useScreen();
  const [kept, setKept] = useState<Producer | null>(null);
  const [note, setNote] = useState('');
  const [texts, setTexts] = useState<Readonly<Record<string, string>>>({});
  const [months, setMonths] = useState('');
  const [weights, setWeights] = useState('');
  const [said, setSaid] = useState<string | null>(null);
  const take = (producer: Producer | null): void => {
    setKept(producer);
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
  const save = async (): Promise<void> => {
    const told = Object.fromEntries(lines.map(([field]) => [field, (texts[field] ?? '').trim() === '' ? null : (texts[field] ?? '').trim()]));
    const rows = weights.split('\n').map((row) => row.trim().split(/[\s,;/]+/).map(Number)).filter((row) => row.length === 3);
    const answer = await call('setProducer', {
      body: { ...told, productClass: kept?.productClass ?? null, sheet: kept?.sheet ?? null, bestBeforeMonths: typedNumber(months), weights: rows.map(([jarMl = 0, netG = 0, drainedG = 0]) => ({ jarMl, netG, drainedG })) },
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
      <label class="field">
        Best before, months after packing: by tests, not by habit
        <input type="text" inputMode="numeric" value={months} onInput={(event) => setMonths(event.currentTarget.value)} />
      </label>
      <label class="field">
        Weights, a line each: jar in mL, net g, drained g (weigh a few)
        <textarea rows={3} value={weights} onInput={(event) => setWeights(event.currentTarget.value)} />
      </label>
      <p role="status">{said}</p>
      <button type="submit" class="main-act large">
        Keep
      </button>
    </form>
  );
};
