import { harvestYield, type BatchDetail } from '#contract';

/** Jars for the fruit there is, and the brine to fill them; null where nothing can be said. */
export interface SuggestedJars {
  readonly jars: number;
  readonly brineL: number;
}

/** Sizes that are mostly sold; any other can be typed. */
export const jarSizesMl = [370, 500, 720, 1_000] as const;

export const suggestedJars = (batch: Pick<BatchDetail, 'fruitKg' | 'cut'>, jarMl: number): SuggestedJars | null => {
  const filled = harvestYield({ fruitKg: batch.fruitKg, pitted: batch.cut === 'pitted', jarMl });
  return filled.ok && filled.value.jars > 0 ? { jars: filled.value.jars, brineL: filled.value.brineL } : null;
};

/** What is typed with commas between, without what is empty. */
export const listed = (text: string): readonly string[] =>
  text
    .split(/[,;\n]/)
    .map((part) => part.trim())
    .filter((part) => part !== '');
