import { pastMoment } from '../format/time.ts';
import type { Shown } from './value.ts';

/** What must be said of the shed air when it is not current. */
export const qualityOfAir = (air: Shown, now: number, zone: string): string => (air.kind === 'grey' ? ` at ${pastMoment(air.at, now, zone)}, ${air.word}` : '');
