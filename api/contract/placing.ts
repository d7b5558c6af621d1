import { z } from 'zod';
import { positive, slug } from './common.ts';

/** Acts that change where the fruit lies. The lot of a part is given by the server. */
export const moved = { drum: slug.meta({ description: 'an empty drum' }) };

export const split = {
  drum: slug.nullable().meta({ description: 'an empty drum for the part; null: out of the drums, on its way to jars' }),
  fruitKg: positive(5_000).meta({ description: 'fruit that goes, with stones' }),
  brineL: z.number().min(0).max(5_000).meta({ description: 'brine that goes with it' }),
};
