import { localDate } from '../cure/stage.ts';
import type { EpochMs } from '../units/time.ts';

/** Days and amounts as the trace writes them, the same on every machine. */
const months = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'] as const;

export const dayOf = (at: EpochMs, zone: string): string => {
  const { day, month, year } = localDate(at, zone);
  return `${day} ${months[month - 1] ?? ''} ${year}`;
};

export const numbered = (value: number): string => String(Math.round(value * 100) / 100);

export const kilos = (kg: number): string => `${String(Math.round(kg * 10) / 10)} kg`;
