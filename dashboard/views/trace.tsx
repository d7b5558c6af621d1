import { useEffect, useState } from 'preact/hooks';
import { labelPath, type BatchSummary, type Ingredient, type Trace } from '#contract';
import { failureWords } from '../parts/forms/form-frame.ts';
import { Go } from '../parts/go.tsx';
import { Places } from '../parts/places.tsx';
import { useScreen } from '../parts/screen.ts';
import { SettingsButton } from '../parts/settings.tsx';
import { BalanceList } from '../parts/trace/balance-list.tsx';
import { ChosenThing } from '../parts/trace/chosen-thing.tsx';
import { Exercise } from '../parts/trace/exercise.tsx';
import { TracePicture } from '../parts/trace/trace-picture.tsx';
import { TraceTable } from '../parts/trace/trace-table.tsx';
import { fruitLine, ingredientLine, jarLine } from '../state/trace/trace-words.ts';
import '../parts/forms/forms.css';
import './trace.css';

/** Both ways from a lot, an ingredient lot, a pick or a probe. */
export const TraceView = ({ of }: { readonly of: Trace['of'] | null }) => {
  const { call, go, wall } = useScreen();
  const [lots, setLots] = useState<readonly BatchSummary[]>([]);
  const [ingredients, setIngredients] = useState<readonly Ingredient[]>([]);
  const [trace, setTrace] = useState<Trace | null>(null);
  const [chosen, setChosen] = useState<string | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  useEffect(() => {
    document.title = 'Trace · Brineward';
    void call('batches').then((answer) => {
      if (answer.ok) setLots(answer.value.batches);
    });
    void call('ingredients').then((answer) => {
      if (answer.ok) setIngredients(answer.value.ingredients);
    });
  }, [call]);
  const asked = of ?? (lots[0] === undefined ? null : { kind: 'lot' as const, id: lots[0].lot });
  const key = asked === null ? null : `${asked.kind} ${asked.id}`;
  useEffect(() => {
    if (key === null) return;
    const { kind, id } = ofKey(key);
    void call('trace', { query: { [kind]: id } }).then((answer) => {
      setProblem(answer.ok ? null : failureWords(answer.error));
      if (!answer.ok) return;
      setTrace(answer.value);
      setChosen(answer.value.start);
    });
  }, [call, key]);
  const zone = wall.wall.value?.site.zone ?? 'UTC';
  const shown = trace !== null && chosen !== null && `${trace.of.kind} ${trace.of.id}` === key ? trace : null;
  return (
    <div class="trace-view">
      <header class="top">
        <Places />
        <div class="top-end">
          <SettingsButton />
        </div>
      </header>
      <main>
        <h1>Trace</h1>
        <div class="trace-ask">
          <label class="field">
            From
            <select value={key ?? ''} onChange={(event) => go({ view: 'trace', of: ofKey(event.currentTarget.value) })}>
              <optgroup label="Lots">
                {lots.map(({ lot, drum }) => (
                  <option key={lot} value={`lot ${lot}`}>{`Lot ${lot} (${drum})`}</option>
                ))}
              </optgroup>
              <optgroup label="Ingredient lots">
                {ingredients.map(({ id, name }) => (
                  <option key={id} value={`ingredient ${id}`}>{`${name}, ${id}`}</option>
                ))}
              </optgroup>
              {asked !== null && asked.kind !== 'lot' && asked.kind !== 'ingredient' && <option value={key ?? ''}>{`${asked.kind} ${asked.id}`}</option>}
            </select>
          </label>
          <Go to={{ view: 'stores' }}>What came in: salt, vinegar, jars, lids</Go>
          {shown?.of.kind === 'lot' && shown.balances.length > 0 && (
            <a href={`/api${labelPath(shown.of.id)}`} target="_blank" rel="noopener">
              Print labels
            </a>
          )}
        </div>
        {problem !== null && (
          <p class="problem" role="alert">
            {problem}
          </p>
        )}
        {asked === null && <p class="none-yet">There is nothing to trace yet. Start a batch first.</p>}
        {shown !== null && chosen !== null && (
          <>
            <TracePicture trace={shown} chosen={chosen} detail={<ChosenThing trace={shown} chosen={chosen} />} onChoose={setChosen} />
            <TraceTable trace={shown} />
            {(shown.balances.length > 0 || shown.ingredient !== null) && (
              <section aria-labelledby="balances">
                <h2 id="balances">Does it add up</h2>
                <BalanceList lines={[...(shown.ingredient === null ? [] : [ingredientLine(shown.ingredient, shown.ingredient.unit)]), ...shown.balances.flatMap((each) => [jarLine(each), fruitLine(each)])]} />
              </section>
            )}
            {shown.kin.length > 0 && (
              <section aria-labelledby="kin">
                <h2 id="kin">Other lots that share a source with it</h2>
                <ul class="kin">
                  {shown.kin.map(({ lot, through }) => (
                    <li key={lot}>
                      <Go to={{ view: 'trace', of: { kind: 'lot', id: lot } }}>{lot}</Go> {through.join(', ')}
                    </li>
                  ))}
                </ul>
              </section>
            )}
            {(shown.of.kind === 'lot' || shown.of.kind === 'ingredient') && <Exercise key={key} of={shown.of} zone={zone} />}
          </>
        )}
      </main>
    </div>
  );
};

const ofKey = (value: string): Trace['of'] => {
  const [kind = 'lot', ...id] = value.split(' ');
  return { kind: kind as Trace['of']['kind'], id: id.join(' ') };
};
