import { localTime } from './local-time.ts';
import type { LotRecord } from './lot-record.ts';
import { behindOf } from './sheet-behind.ts';
import { frontOf } from './sheet-front.ts';
import type { Sheet } from './sheet.ts';

export const sheetOf = (record: LotRecord): Sheet => {
  const { date, time, offset } = localTime(record.madeAt, record.clock);
  return { title: 'Olives in brine: record of a lot', lot: record.lot, printed: `${date} ${time} (${offset})`, front: frontOf(record), sections: behindOf(record) };
};
