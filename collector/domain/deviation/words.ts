import type { Disposition } from './deviation.ts';

export const dispositionWords: Readonly<Record<Disposition, string>> = {
  released: 'released after evaluation',
  reworked: 'fully reworked',
  'processed-as-low-acid': 'processed as low-acid food',
  destroyed: 'destroyed',
  'no-product-affected': 'no product affected',
};
