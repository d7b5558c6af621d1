import { ok } from '#contract';
import { exact, withUnit } from './measure.ts';
import { saltFlag } from './salt.ts';
import { ask, type Big, type CheckedRecipe, type Tool } from './tool.ts';

type Spread = NonNullable<CheckedRecipe['brines'][number]['pouredPercentWw']>;

/** The ends are never drawn nearer together than they are. */
export const rangeWords = (span: Spread | null, digits: number): string => {
  if (span === null) return '–';
  const scale = 10 ** digits;
  const [low, high] = [exact(Math.floor(span.low * scale + 1e-9) / scale, digits), exact(Math.ceil(span.high * scale - 1e-9) / scale, digits)];
  return low === high ? low : `${low} – ${high}`;
};

const big = (label: string, span: Spread | null, digits: number, unit: string): Big => ({ label, text: rangeWords(span, digits), unit: span === null ? '' : unit });

const settled = (span: Spread | null): Big => ({
  ...big('where it will settle', span, 1, '%'),
  ...(span === null ? { note: 'not enough of it could be read' } : { flag: saltFlag({ ...span, value: span.low }) }),
});

const longestRecipe = 4_000;

export const recipeTool: Tool = {
  id: 'recipe', group: 'Brine', question: 'What does this recipe come to?', about: 'Cups, spoons and litres, against the rules', calculator: 'recipe-check',
  fields: () => [
    {
      kind: 'text', name: 'text', label: 'The recipe as written', longest: longestRecipe, hint: 'In English. One amount a line reads best; grams beat cups.',
      start: '½ cup salt\n10 cups water\nTo finish: 1 cup salt to 10 cups water, 1 cup vinegar',
    },
    { kind: 'number', name: 'fruitKg', label: 'fruit it is for', quantity: 'kilograms', step: 1, start: null, invite: 'Add the fruit it is for', first: 3 },
  ],
  find: (given, bench) => {
    const text = given.choice('text');
    if (text.trim() === '') return { ok: false, error: { field: 'text', message: 'Type or paste a recipe.' } };
    const fruitKg = given.own('fruitKg');
    const answer = ask(bench, 'recipe-check', { text, ...(fruitKg === undefined ? {} : { fruitKg }) });
    if (!answer.ok) return answer;
    const { brines, slips } = answer.value;
    const stays = brines.find((brine) => brine.stays);
    const acid = stays?.aceticPouredPercent ?? null;
    const which = brines.length > 1 && stays !== undefined ? `${stays.name}: poured` : 'poured';
    return ok({
      bigs: [big(which, stays?.pouredPercentWw ?? null, 1, '%'), settled(stays?.settledPercentWw ?? null)],
      ...(slips.length > 0 && { sentence: slips.join(' ') }),
      lines: [
        ...(acid === null || acid.high === 0 ? [] : [{ label: 'Acetic acid poured', text: withUnit(rangeWords(acid, 2), 'g in 100 mL') }, { label: 'Once settled', text: withUnit(rangeWords(stays?.aceticSettledPercent ?? null, 2), 'g in 100 mL') }]),
        { label: 'pH', text: 'unknown' },
      ],
      recipe: answer.value, beside: [answer.value],
    });
  },
};
