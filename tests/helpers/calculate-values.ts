import type { CalculatorAnswer, CalculatorName } from '#contract';
import type { AccuracyTable } from './accuracy.ts';
import { checkAccuracy } from './accuracy.ts';
import type { CalculateServer } from './calculate-server.ts';

interface Question<Name extends CalculatorName> {
  readonly input: object;
  /** Where in the answer the number stands. */
  readonly answer: (body: CalculatorAnswer<Name>) => number | null | undefined;
}

export interface ServedTable<Name extends CalculatorName, Row> extends Omit<AccuracyTable<Row>, 'actual' | 'mistakes'> {
  readonly ask: (row: Row) => Question<Name>;
  /** Other questions to the same calculator, as a slip would ask them, or another number of its answer; a refusal is noticed as well. */
  readonly mistakes: Readonly<Record<string, (row: Row) => Question<Name>>>;
}

/** Compares stated values with what the server answers: every row is asked over HTTP, also the wrong way. */
export const checkServed = async <Name extends CalculatorName, Row>(server: CalculateServer, name: Name, { ask, mistakes, ...table }: ServedTable<Name, Row>): Promise<void> => {
  const numbers = async (question: (row: Row) => Question<Name>, mayBeRefused: boolean): Promise<(row: Row) => number> => {
    const found = new Map<Row, number>();
    for (const [row] of table.rows) {
      const { input, answer } = question(row);
      if (mayBeRefused && (await server.send(name, input)).status !== 200) continue;
      found.set(row, answer(await server.ask(name, input)) ?? Number.NaN);
    }
    return (row) => found.get(row) ?? Number.NaN;
  };
  const actual = await numbers(ask, false);
  const wrong = await Promise.all(Object.entries(mistakes).map(async ([mistake, question]) => [mistake, await numbers(question, true)] as const));
  checkAccuracy({ ...table, quantity: `${name}: ${table.quantity}`, actual, mistakes: Object.fromEntries(wrong) });
};
