import { useCallback, useEffect, useState } from 'preact/hooks';
import type { Ingredient, Result } from '#contract';
import type { Failure } from '../client/call.ts';
import { newKey } from '../client/browser.ts';
import { dayMonth } from '../format/time.ts';
import { TableRoom } from '../parts/compare/table-room.tsx';
import { Dialog } from '../parts/forms/dialog.tsx';
import { failureWords } from '../parts/forms/form-frame.ts';
import { Go } from '../parts/go.tsx';
import { Places } from '../parts/places.tsx';
import { useScreen } from '../parts/screen.ts';
import { SettingsButton } from '../parts/settings.tsx';
import { CountForm } from '../parts/stores/count-form.tsx';
import { ProducerForm } from '../parts/stores/producer-form.tsx';
import { ReceiveForm } from '../parts/stores/receive-form.tsx';
import { amount, ingredientLine, leftWords, verdictWords } from '../state/trace/trace-words.ts';
import '../parts/forms/forms.css';
import './trace.css';
import './stores.css';

type Open = { readonly sheet: 'receive' } | { readonly sheet: 'count'; readonly ingredient: Ingredient };

/** What came in and what is left of it; and what labels say. */
export const StoresView = () => {
  const { call, session, wall } = useScreen();
  const [all, setAll] = useState<readonly Ingredient[] | null>(null);
  const [open, setOpen] = useState<Open | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const [key, setKey] = useState(newKey);
  const load = useCallback(async (): Promise<void> => {
    const answer = await call('ingredients');
    setProblem(answer.ok ? null : failureWords(answer.error));
    if (answer.ok) setAll(answer.value.ingredients);
  }, [call]);
  useEffect(() => {
    document.title = 'Stores · Brineward';
    void load();
  }, [load]);
  const tell = async (told: Promise<Result<Ingredient, Failure>>): Promise<void> => {
    setBusy(true);
    const answer = await told;
    setBusy(false);
    setProblem(answer.ok ? null : failureWords(answer.error));
    if (!answer.ok) return;
    setOpen(null);
    setKey(newKey());
    await load();
  };
  const zone = wall.wall.value?.site.zone ?? 'UTC';
  const mayWork = session.mayWork.value;
  return (
    <div class="stores">
      <header class="top">
        <Places />
        <div class="top-end">
          <SettingsButton />
        </div>
      </header>
      <main>
        <h1>Stores</h1>
        {mayWork && (
          <button type="button" class="main-act large" onClick={() => setOpen({ sheet: 'receive' })}>
            Something came in
            <span class="under">salt, vinegar, jars, lids, buffers …</span>
          </button>
        )}
        {problem !== null && open === null && (
          <p class="problem" role="alert">
            {problem}
          </p>
        )}
        {all?.length === 0 && <p class="none-yet">Nothing was written down yet. Write down each lot as it comes in: when a supplier calls one back, you will know which jars it is in.</p>}
        <ul class="stores-list">
          {(all ?? []).map((ingredient) => {
            const { id, item, name, supplier, receivedAt, unit, theirLot, bestBefore, balance, uses } = ingredient;
            const line = ingredientLine(balance, unit, item);
            const left = balance.onHand ?? Math.max(0, balance.expected);
            const lots = new Set(uses.map((use) => use.lot)).size;
            const known = leftWords(ingredient) !== 'not counted';
            return (
              <li key={id} class="stores-card">
                <header>
                  <h2>{name}</h2>
                  <p class="stores-left">
                    {leftWords(ingredient)}
                  </p>
                </header>
                <p class="dim">
                  {item} from {supplier}, {dayMonth(Date.parse(receivedAt), zone)}
                  {theirLot === null ? '; their lot is not written' : `; their lot ${theirLot}`}
                  {bestBefore === null ? '' : `; best before ${bestBefore}`}
                </p>
                <div class="stores-bar" aria-hidden="true" data-unknown={!known || undefined}>
                  {known && <i style={{ width: `${String(Math.max(0, Math.min(100, (left / balance.received) * 100)))}%` }} />}
                </div>
                <p>
                  {line.text} <span class="verdict">{verdictWords(line.balances)}</span>
                </p>
                <div class="stores-acts">
                  {mayWork && (
                    <button type="button" onClick={() => setOpen({ sheet: 'count', ingredient })}>
                      Count what is left
                    </button>
                  )}
                  <Go to={{ view: 'trace', of: { kind: 'ingredient', id } }}>
                    {lots === 0 ? 'Where it went' : `Where it went: ${String(lots)} ${lots === 1 ? 'lot' : 'lots'}`}
                  </Go>
                </div>
              </li>
            );
          })}
        </ul>
        {all !== null && all.length > 0 && <StoresTable all={all} zone={zone} />}
        {session.isOwner.value && (
          <details class="producer">
            <summary>What labels and papers say of you</summary>
            <ProducerForm />
          </details>
        )}
      </main>
      {open !== null && (
        <Dialog title={open.sheet === 'receive' ? 'Something came in' : `What is left of ${open.ingredient.name}`} onClose={() => setOpen(null)}>
          {problem !== null && (
            <p class="problem" role="alert">
              {problem}
            </p>
          )}
          {open.sheet === 'receive' ? (
            <ReceiveForm known={all ?? []} busy={busy} onSave={(body) => void tell(call('receiveIngredient', { body, key }))} />
          ) : (
            <CountForm ingredient={open.ingredient} busy={busy} onSave={(body) => void tell(call('countIngredient', { params: { ingredient: open.ingredient.id }, body, key }))} />
          )}
        </Dialog>
      )}
    </div>
  );
};

const StoresTable = ({ all, zone }: { readonly all: readonly Ingredient[]; readonly zone: string }) => (
  <details class="trace-table">
    <summary>All numbers</summary>
    <TableRoom label="Stores in numbers">
      <table>
        <thead>
          <tr>
            {['Lot', 'What', 'Came', 'In', 'Used', 'Spilled', 'Here', 'Unaccounted'].map((title) => (
              <th key={title} scope="col">
                {title}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {all.map(({ id, name, receivedAt, unit, balance }) => (
            <tr key={id}>
              <th scope="row">{id}</th>
              <td>{name}</td>
              <td>{dayMonth(Date.parse(receivedAt), zone)}</td>
              <td>{amount(balance.received, unit)}</td>
              <td>{amount(balance.used, unit)}</td>
              <td>{amount(balance.spilled, unit)}</td>
              <td>{balance.onHand === null ? 'not counted' : amount(balance.onHand, unit)}</td>
              <td>{balance.unaccounted === null ? 'unknown' : amount(balance.unaccounted, unit)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </TableRoom>
  </details>
);
