import type { BatchSummary } from '#contract';
import { dayMonth, daySpan } from '../format/time.ts';

/** A batch in the three short lines a row has room for. */
export interface BatchWords {
  readonly fruit: string;
  readonly lot: string;
  readonly forecast: string;
}

const stageWords = (batch: BatchSummary, zone: string): string => {
  switch (batch.stage) {
    case 'jarred':
    case 'rest':
      return batch.readyToEatAt === null ? 'resting' : `resting to ${dayMonth(Date.parse(batch.readyToEatAt), zone)}`;
    case 'ready':
      return batch.readyToEatAt === null ? 'ready to eat' : `ready to eat since ${dayMonth(Date.parse(batch.readyToEatAt), zone)}`;
    case 'hold':
      return `sweet, waits for jars, day ${String(batch.day)}`;
    case 'soak':
    case 'leach':
    case 'ferment':
      return `${batch.stage}, day ${String(batch.day)}`;
  }
};

export const batchWords = (batch: BatchSummary | null, zone: string): BatchWords => {
  if (batch === null) return { fruit: 'no batch', lot: '', forecast: '' };
  const { forecast } = batch;
  return {
    fruit: [batch.cut, batch.variety].filter((part) => part !== null).join(' · '),
    lot: `${batch.lot} · ${stageWords(batch, zone)}`,
    forecast:
      batch.jarredAt !== null || batch.stage === 'hold'
        ? ''
        : 'readyLikely' in forecast
          ? `likely sweet ${dayMonth(Date.parse(forecast.readyLikely), zone)} (${daySpan(Date.parse(forecast.readyFrom), Date.parse(forecast.readyTo), zone)})`
          : 'ready date not known yet',
  };
};
