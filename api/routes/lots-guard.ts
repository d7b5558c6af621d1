import { unfit } from '../errors.ts';
import type { ShedModel } from '../shed/shed-model.ts';

/** The lots an act says it used, each of them known and named once. */
export const knownLots = (model: ShedModel, lots: readonly string[]): readonly string[] => {
  for (const [index, id] of lots.entries()) {
    if (!model.shed().ingredients.has(id)) throw unfit(`lots.${index}`, `there is no ingredient lot ${id}; write down what came in first`);
    if (lots.indexOf(id) !== index) throw unfit(`lots.${index}`, `${id} is named twice`);
  }
  return lots;
};
