import { useEffect, useState } from 'preact/hooks';
import { TableRoom } from '../compare/table-room.tsx';
import type { PlanInput, Season, SeasonPlan } from '#contract';
import { inWords, showVolume, type UnitChoice } from '../../format/units.ts';
import { drumSentence, kgText, planRows, spanText } from '../../state/season/season-words.ts';
import type { SeasonModel } from '../../state/season/season.ts';
import { PlanForm } from './plan-form.tsx';
import { PlanWeeks } from './plan-weeks.tsx';

const waitMs = 250;

/** The next season: what it is worked out from, drums over the weeks, and what to buy. */
export const PlanSection = ({ model, next, units }: { readonly model: SeasonModel; readonly next: Season['next']; readonly units: UnitChoice }) => {
  const [input, setInput] = useState<PlanInput>(next.input);
  useEffect(() => {
    const timer = setTimeout(() => void model.ask(input), model.plan.peek() === null ? 0 : waitMs);
    return () => clearTimeout(timer);
  }, [model, input]);
  const plan = model.plan.value;
  const refused = model.refused.value;
  return (
    <section class="plan" aria-labelledby="plan">
      <h2 id="plan">Plan the next season</h2>
      <PlanForm input={input} own={next.own} units={units} onChange={setInput} />
      {refused !== null && (
        <p class="problem" role="alert">
          <b>{refused.title}.</b> {refused.detail}
        </p>
      )}
      {plan === null ? refused === null && <p class="dim">Playing a thousand seasons …</p> : <PlanAnswer plan={plan} units={units} />}
    </section>
  );
};

const PlanAnswer = ({ plan, units }: { readonly plan: SeasonPlan; readonly units: UnitChoice }) => {
  const { figures, shopping, runs, input } = plan;
  const kg = (value: number): string => kgText(Math.round(value), units);
  const litres = (value: number): string => inWords(showVolume(Math.round(value), units));
  const list = [
    { amount: String(shopping.jars), what: `jars of ${String(input.jarMl)} mL` },
    { amount: String(shopping.lids), what: 'lids, some to spare' },
    { amount: kg(shopping.saltKg), what: 'salt, cure and jars' },
    { amount: litres(shopping.vinegarL), what: 'vinegar of 5 %' },
    ...(shopping.drums > 0 ? [{ amount: String(shopping.drums), what: shopping.drums === 1 ? 'more drum' : 'more drums' }] : []),
  ];
  return (
    <div class="plan-answer">
      <p class="plan-words" role="status">
        <b>
          {spanText(figures.fruitKg, kg)} of fruit, {spanText(figures.jars)} jars.
        </b>{' '}
        {drumSentence(plan)}
      </p>
      <PlanWeeks plan={plan} />
      <div class="shopping">
        <h3>To buy</h3>
        <ul>
          {list.map(({ amount, what }) => (
            <li key={what}>
              <b>{amount}</b> <span>{what}</span>
            </li>
          ))}
        </ul>
        <p class="dim">Each thing by itself is enough in four seasons of five. How much vinegar the jars need is for the bench trial and the pH of the packed jars to say, not for this list.</p>
      </div>
      <p>
        <b>{spanText(figures.wasteBrineL, (value) => litres(Math.round(value / 10) * 10))}</b> of spent brine will have to go somewhere: ask what is allowed where you live. One brine fewer a drum saves {kg(figures.fills.p50 * plan.measures.brineLPerDrum * plan.measures.saltGPerL / 1_000)} of salt
        and {litres(figures.fills.p50 * plan.measures.brineLPerDrum)} of it. The first jars can stand on the table about day {spanText(figures.firstStallDay)} after the first pick, if their pH is inside by then.
      </p>
      <details>
        <summary>The numbers</summary>
        <TableRoom label="The numbers of the plan">
          <table>
            <caption>
              {runs} seasons played, with trees, the year, culls and cures as they may turn out. Eight seasons of ten lie in the span; it says nothing of hail, fly or frost.
            </caption>
            <thead>
              <tr>
                <th scope="col">What</th>
                <th scope="col">The middle season</th>
                <th scope="col">Eight of ten</th>
              </tr>
            </thead>
            <tbody>
              {planRows(plan, units).map(({ name, middle, span }) => (
                <tr key={name}>
                  <th scope="row">{name}</th>
                  <td>{middle}</td>
                  <td>{span}</td>
                </tr>
              ))}
              {plan.weeks.map((week, index) => (
                <tr key={`week ${String(index)}`}>
                  <th scope="row">Drums in use, week {index + 1}</th>
                  <td>{Math.round(week.p50)}</td>
                  <td>{spanText(week)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </TableRoom>
      </details>
    </div>
  );
};
