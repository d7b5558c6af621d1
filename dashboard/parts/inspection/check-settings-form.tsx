import { useEffect, useState } from 'preact/hooks';
import type { CheckSettingShown, RouteBody } from '#contract';
import { typedNumber } from '../../format/units.ts';
import { failureWords } from '../forms/form-frame.ts';
import { useScreen } from '../screen.ts';

const textsOf = (settings: readonly CheckSettingShown[]): Readonly<Record<string, string>> => Object.fromEntries(settings.map(({ name, value }) => [name, String(value)]));

const asTitle = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);

/** The numbers that instruments and records are checked by; the owner may change them within bounds, and sees whose each is. */
export const CheckSettingsForm = ({ onDone }: { readonly onDone: () => void }) => {
  const { call } = useScreen();
  const [settings, setSettings] = useState<readonly CheckSettingShown[]>([]);
  const [texts, setTexts] = useState<Readonly<Record<string, string>>>({});
  const [said, setSaid] = useState('');
  const [problem, setProblem] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const take = (shown: readonly CheckSettingShown[]): void => {
    setSettings(shown);
    setTexts(textsOf(shown));
  };
  useEffect(() => {
    void call('checkSettings').then((answer) => {
      if (answer.ok) take(answer.value.settings);
      else setProblem(failureWords(answer.error));
    });
  }, [call]);
  const typed = settings.map((setting) => ({ ...setting, typed: typedNumber(texts[setting.name] ?? '') }));
  const isOutside = ({ typed: value, low, high }: (typeof typed)[number]): boolean => value === null || value < low || value > high;
  const changed = typed.filter(({ typed: value, value: before }) => value !== before);
  const save = async (): Promise<void> => {
    setBusy(true);
    const answer = await call('setCheckSettings', { body: Object.fromEntries(changed.map(({ name, typed: value }) => [name, value])) as RouteBody<'setCheckSettings'> });
    setBusy(false);
    setProblem(answer.ok ? null : failureWords(answer.error));
    setSaid(answer.ok ? 'Kept. The checks go by these numbers now.' : '');
    if (!answer.ok) return;
    take(answer.value.settings);
    onDone();
  };
  return (
    <form
      class="act-form check-settings"
      onSubmit={(event) => {
        event.preventDefault();
        void save();
      }}
    >
      <p class="caution">Guide values, no approval. Your authority may ask for others. A change counts for older records too.</p>
      {typed.map((setting) => {
        const { name, words, unit, low, high, byDefault, source } = setting;
        return (
          <label key={name} class="field">
            {asTitle(words)}, {unit}
            <input type="text" inputMode="decimal" autocomplete="off" value={texts[name] ?? ''} aria-invalid={isOutside(setting)} onInput={(event) => setTexts({ ...texts, [name]: event.currentTarget.value })} />
            {isOutside(setting) ? (
              <span class="fault">
                a number from {low} to {high}
              </span>
            ) : (
              <span class="hint">
                {source}
                {source === 'set by the owner' && `; ${String(byDefault)} if nobody changes it`}
              </span>
            )}
          </label>
        );
      })}
      {problem !== null && (
        <p class="problem" role="alert">
          {problem}
        </p>
      )}
      <p role="status">{said}</p>
      <button type="submit" class="main-act large" disabled={busy || changed.length === 0 || typed.some(isOutside)}>
        Keep these numbers
      </button>
    </form>
  );
};
