import { isChannel } from '#domain/reading/channel.ts';
import { qualities, seriesParts, type Quality, type Reading, type SeriesId } from '#domain/reading/reading.ts';

const known: ReadonlySet<Quality> = new Set(qualities);

/** A store is not where readings are judged, yet nothing that has no time, value or place may enter it: that is a mistake of the caller. */
export const requireStorable = (readings: readonly Reading[]): void => {
  for (const { at, value, quality } of readings) {
    if (!Number.isSafeInteger(at)) throw new RangeError(`the time of a reading is a whole number of milliseconds, not ${at}`);
    if (!Number.isFinite(value)) throw new RangeError(`the value of a reading is a finite number, not ${value}`);
    if (!known.has(quality)) throw new RangeError(`"${quality}" is no quality of a reading`);
  }
};

export const requireSeries = (series: SeriesId): { readonly probe: string; readonly channel: string } => {
  const parts = seriesParts(series);
  if (parts.probe === '' || !isChannel(parts.channel)) throw new RangeError(`"${series}" names no probe and channel`);
  return parts;
};

/** A reading as every store gives it back: these four fields, and no negative zero, which files do not keep. */
export const asStored = ({ series, at, value, quality }: Reading): Reading => ({ series, at: at + 0, value: value + 0, quality });
