import { expect, it } from 'vitest';
import { markAllergens } from '#domain/label/allergens.ts';

/** Regulation (EU) 1169/2011, annex II, and sesame in the United States since 2023 (21 U.S.C. 321(qq)). */
const strong = (text: string): string[] => markAllergens(text).filter((run) => run.strong).map((run) => run.text);

it.each([
  ['olives, water, salt, wine vinegar (sulphites), celery', ['SULPHITES', 'CELERY']],
  ['olives, almonds, sesame seed, anchovies', ['ALMONDS', 'SESAME', 'ANCHOVIES']],
  ['olives, Mustard seed, feta', ['MUSTARD', 'FETA']],
  ['brazil nuts', ['BRAZIL NUTS']],
  // A writer's own capitals are kept as a mark: other languages set theirs apart so.
  ['olive, acqua, SEDANO', ['SEDANO']],
])('%s', (text, marked) => {
  expect(strong(text)).toEqual(marked);
  expect(markAllergens(text).map((run) => run.text.toLowerCase()).join('')).toBe(text.toLowerCase());
});

it('leaves words that only look alike', () => {
  for (const text of ['nutmeg', 'coconut', 'butternut', 'olives, buckwheat', 'creamy', 'codfather', 'eggplant']) expect([text, strong(text)]).toEqual([text, []]);
});
