import { useEffect, useState } from 'preact/hooks';
import { screenStorage } from '../client/browser.ts';
import { TableRoom } from '../parts/compare/table-room.tsx';
import { Places } from '../parts/places.tsx';
import { SettingsButton } from '../parts/settings.tsx';
import { benchShown, benchTrialDays, keepNotes, newNotes, readNotes, type BenchNotes } from '../state/bench.ts';
import '../parts/forms/forms.css';
import './bench.css';

const fields = [
  ['fruitG', 'Fruit in a jar, g'],
  ['brineG', 'Brine in a jar, g'],
  ['brinePercent', 'Brine, % salt by weight'],
  ['vinegarPercent', 'Vinegar, % on the bottle'],
  ['largestMl', 'Largest dose: mL of 5 % vinegar in a 335 g jar'],
  ['targetPh', 'pH to reach'],
  ['batchKg', 'Fruit and brine in the batch, kg'],
] as const satisfies readonly (readonly [Exclude<keyof BenchNotes, 'ph'>, string])[];

/** Five jars with rising vinegar, measured for a week, and from them the vinegar for the batch. */
export const BenchView = () => {
  const [notes, setNotes] = useState(() => readNotes(screenStorage()));
  const [kept, setKept] = useState(true);
  useEffect(() => {
    document.title = 'Bench trial · Brineward';
  }, []);
  const change = (next: BenchNotes): void => {
    setNotes(next);
    setKept(keepNotes(screenStorage(), next));
  };
  const { plan, planProblem, result, noResult, stillMoving } = benchShown(notes);
  return (
    <div class="bench">
      <header class="top">
        <Places />
        <div class="top-end">
          <SettingsButton />
        </div>
      </header>
      <main>
        <header>
          <h1>Bench trial</h1>
          <p class="dim">Five jars with rising vinegar in place of brine, from the fruit and brine of one batch. Blend a split sample and measure its pH on days 1, 3 and 7; nobody tastes them.</p>
        </header>
        <section aria-labelledby="bench-asked">
          <h2 id="bench-asked">The jars</h2>
          <div class="bench-fields">
            {fields.map(([name, words]) => (
              <label key={name} class="field">
                {words}
                <input type="text" inputMode="decimal" autocomplete="off" value={notes[name]} onInput={(event) => change({ ...notes, [name]: event.currentTarget.value })} />
              </label>
            ))}
          </div>
          {planProblem !== null && <p class="problem" role="alert">{planProblem}</p>}
        </section>
        {plan !== null && (
          <section aria-labelledby="bench-jars">
            <h2 id="bench-jars">What goes in, and what was measured</h2>
            <TableRoom label="The five jars">
              <table>
                <thead>
                  <tr>
                    <th scope="col">Jar</th>
                    <th scope="col">Fruit</th>
                    <th scope="col">Brine</th>
                    <th scope="col">Vinegar</th>
                    <th scope="col">Salt</th>
                    {benchTrialDays.map((day) => (
                      <th key={day} scope="col">
                        pH day {day}
                      </th>
                    ))}
                  </tr>
                </thead>
                <tbody>
                  {plan.jars.map(({ jar, fruitG, brineMl, vinegarMl, saltG }) => (
                    <tr key={jar}>
                      <th scope="row">{jar}</th>
                      <td>{fruitG.toFixed(0)} g</td>
                      <td>{brineMl.toFixed(0)} mL</td>
                      <td>{vinegarMl.toFixed(1)} mL</td>
                      <td>{saltG.toFixed(1)} g</td>
                      {benchTrialDays.map((day) => {
                        const key = `${String(jar)}/${String(day)}`;
                        return (
                          <td key={day}>
                            <input
                              type="text" inputMode="decimal" autocomplete="off" size={5} aria-label={`pH of jar ${String(jar)} on day ${String(day)}`} value={notes.ph[key] ?? ''}
                              onInput={(event) => change({ ...notes, ph: { ...notes.ph, [key]: event.currentTarget.value } })}
                            />
                          </td>
                        );
                      })}
                    </tr>
                  ))}
                </tbody>
              </table>
            </TableRoom>
            <p class="dim">In all {plan.fruitKg.toFixed(1)} kg of fruit, {plan.brineL.toFixed(2)} L of brine, {plan.vinegarMl.toFixed(0)} mL of vinegar. The salt makes up for the brine that is left out.</p>
          </section>
        )}
        <section class="bench-answer" aria-labelledby="bench-answer" aria-live="polite">
          <h2 id="bench-answer">The dose</h2>
          {result !== null && <p class="bench-dose">{result}</p>}
          {noResult !== null && <p>{noResult}</p>}
          {stillMoving !== null && stillMoving > 0.1 && <p class="caution">A jar moved by {stillMoving.toFixed(2)} since its reading before: the acid was not at rest. Measure again in three days.</p>}
          <p class="caution">A place to start, no approval. Above pH 4.6 a closed jar can grow the bacterium of botulism; the limit for natural olives is 4.3. The packed jars are measured all the same, and local rules come first.</p>
        </section>
        <p class="bench-foot">
          <span class="dim">{kept ? 'Kept on this device only.' : 'This browser keeps nothing: write the figures down.'}</span>
          <button type="button" class="quiet" onClick={() => change(newNotes)}>
            Begin a new trial
          </button>
        </p>
      </main>
    </div>
  );
};
