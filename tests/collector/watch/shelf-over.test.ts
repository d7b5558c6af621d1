import { expect, it } from 'vitest';
import { hourMs, toRfc3339 } from '#domain/units/time.ts';
import { shelvesOver } from '../../../collector/watch/shelf-over.ts';
import { createShedBook, openDrum } from '../../helpers/shed-book.ts';

it('an alert comes back from the shelf when its time is over, and not before', () => {
  const book = createShedBook();
  const at = Date.UTC(2026, 9, 3);
  const lot = openDrum(book, at);
  book.write('alert-raised', { id: 'a', rule: 'leach-temperature-high', drum: 'barrel-1', lot, quantity: 'temperature', priority: 'medium', since: toRfc3339(at), at: toRfc3339(at), value: 26, limit: { value: 25, unit: 'Cel', source: 'a test', side: 'high' }, text: 'warm', advice: 'shade' }, at);
  expect(shelvesOver(book.shed, at + 99 * hourMs)).toEqual([]);
  book.write('alert-shelved', { id: 'a', until: toRfc3339(at + hourMs), reason: 'the door was open' }, at);
  expect(shelvesOver(book.shed, at + hourMs - 1)).toEqual([]);
  const over = shelvesOver(book.shed, at + hourMs);
  expect(over).toEqual([{ who: 'collector', kind: 'alert-unshelved', body: { id: 'a' } }]);
  book.append(over, at + hourMs);
  expect(book.shed.openAlerts.get('a')).toMatchObject({ state: 'unacknowledged', shelf: null });
  expect(shelvesOver(book.shed, at + 2 * hourMs)).toEqual([]);
});
