import { rangeWords } from '../../state/work-out/recipe-tool.ts';
import { saltRuler } from '../../state/work-out/salt-ruler.ts';
import type { CheckedRecipe } from '../../state/work-out/tool.ts';
import { Mark } from '../mark.tsx';
import { SaltRuler } from './salt-ruler.tsx';

const understood = {
  understood: { mark: 'inside', word: 'Understood' },
  partly: { mark: 'caution', word: 'Understood in part' },
  'not-understood': { mark: 'caution', word: 'Not understood' },
  'nothing-measured': { mark: 'empty', word: 'No amount here' },
} as const;

const verdicts = {
  inside: { mark: 'inside', word: 'inside' },
  outside: { mark: 'caution', word: 'outside' },
  unknown: { mark: 'unknown', word: 'unknown' },
  misses: { mark: 'empty', word: 'missing' },
} as const;

/** What a recipe comes to: its brines on a ruler, the numbers and the rules. */
export const Recipe = ({ recipe }: { readonly recipe: CheckedRecipe }) => {
  const ruler = saltRuler(recipe);
  return (
    <>
      {ruler !== null && (
        <figure class="ruler">
          <SaltRuler ruler={ruler} />
          <figcaption class="dim">Salt in % by weight. Dashed: what the rules ask for once settled. Shaded: what published home recipes pour.</figcaption>
        </figure>
      )}
      {recipe.brines.length > 0 && <Numbers brines={recipe.brines} />}
      <section class="checked rules" aria-labelledby="recipe-rules">
        <h2 id="recipe-rules">Rules</h2>
        <ul>
          {recipe.rules.map(({ id, rule, verdict, found, source }) => (
            <li key={`${id} ${rule}`} data-verdict={verdict}>
              <Mark state={verdicts[verdict].mark} />
              <div>
                <p>
                  <b>{verdicts[verdict].word}</b> · {rule}
                </p>
                <p>{found}</p>
                <p class="dim">{source}</p>
              </div>
            </li>
          ))}
        </ul>
      </section>
    </>
  );
};

/** A number never parted from its unit at the end of a line. */
const together = (words: string): string => words.replaceAll(/(\d) (?=(?:mL|L|g|kg|%)\b|%)/g, '$1\u00a0');

/** Beside the text itself, so that a slip of the pen is seen where it was made. */
export const RecipeLines = ({ lines }: { readonly lines: CheckedRecipe['lines'] }) => (
  <section class="checked" aria-labelledby="recipe-lines">
    <h2 id="recipe-lines">How each line was read</h2>
    <ol>
      {lines.map(({ text, understood: how, words }, index) => (
        // The same line may well stand twice.
        <li key={index} data-verdict={how}>
          <Mark state={understood[how].mark} />
          <div>
            <p>{text}</p>
            <p>
              <b>{understood[how].word}</b>
              {words.length > 0 && `: ${words.map(together).join('; ')}`}
            </p>
          </div>
        </li>
      ))}
    </ol>
  </section>
);

/** Two rows a brine, so that it fits a phone. */
const Numbers = ({ brines }: { readonly brines: CheckedRecipe['brines'] }) => (
  <section class="checked" aria-labelledby="recipe-numbers">
    <h2 id="recipe-numbers">Numbers</h2>
    <table>
      <thead>
        <tr>
          <th scope="col">brine</th>
          <th scope="col">salt, %</th>
          <th scope="col">acetic, g in 100 mL</th>
        </tr>
      </thead>
      <tbody>
        {brines.flatMap(({ name, pouredPercentWw, settledPercentWw, aceticPouredPercent, aceticSettledPercent }) =>
          [
            { what: 'poured', salt: pouredPercentWw, acetic: aceticPouredPercent },
            { what: 'settles', salt: settledPercentWw, acetic: aceticSettledPercent },
          ].map(({ what, salt, acetic }) => (
            <tr key={`${name} ${what}`}>
              <th scope="row">
                {name}, {what}
              </th>
              <td>{rangeWords(salt, 1)}</td>
              <td>{rangeWords(acetic, 2)}</td>
            </tr>
          )),
        )}
      </tbody>
    </table>
    {brines.filter(({ note }) => note !== '').map(({ name, note, stays }) => (
      <p key={name} class="dim">
        {brines.length > 1 && `${name}${stays ? ', where the fruit stays' : ''}: `}
        {note}
      </p>
    ))}
  </section>
);
