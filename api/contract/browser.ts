import { config } from 'zod';

/** Under a content policy without `unsafe-eval` the parser must not try to compile its schemas. A browser calls this once, before the first parse. */
export const parseWithoutEval = (): void => {
  config({ jitless: true });
};
