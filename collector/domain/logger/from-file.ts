import type { Shed } from '../journal/shed.ts';
import { seriesId, type Reading } from '../reading/reading.ts';
import { fromRfc3339 } from '../units/time.ts';

/** Whether what a series said last was brought in the file of a logger: it is not expected to go on speaking. */
export const isFromFile = ({ imports }: Pick<Shed, 'imports'>, { series, at }: Pick<Reading, 'series' | 'at'>): boolean =>
  [...imports.values()].some(({ mapping, finished }) => finished?.to != null && seriesId(mapping.probe, mapping.channel) === series && at <= fromRfc3339(finished.to));
