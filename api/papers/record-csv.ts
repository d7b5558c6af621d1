import { localMoment } from '#domain/record/local-time.ts';
import type { LotRecord } from '#domain/record/lot-record.ts';
import { csvField } from '../shed/csv-field.ts';

/**
 * Everything measured and done as one flat table (RFC 4180), a row a day of a probe, a measurement, an act, a departure, a gap or a check,
 * told apart by the first column. `mark`: `u` not usable as evidence, `later` and `LATE` written afterwards, `struck` corrected.
 * An empty field is one that the row does not have; what was not measured says so.
 */
export const recordCsv = (record: LotRecord): string => [columns.join(','), ...rowsOf(record).map((row) => columns.map((column) => csvField(row[column] ?? null)).join(','))].map((line) => `${line}\r\n`).join('');

const columns = [
  'row', 'lot', 'from_utc', 'to_utc', 'local', 'quantity', 'value', 'unit', 'uncertainty', 'lowest', 'mean', 'highest', 'n', 'observed_share', 'limit', 'side', 'outcome', 'mark', 'instrument', 'by', 'entry', 'text',
] as const;
type Row = Partial<Record<(typeof columns)[number], string | number | null>>;

const rowsOf = (record: LotRecord): readonly Row[] => {
  const { lot, clock } = record;
  const local = (at: string): string => localMoment(at, clock);
  const limits = record.limits.map((limit): Row => ({ row: 'limit', from_utc: limit.from, to_utc: limit.to, quantity: limit.quantity, value: limit.worst ?? 'not measured', unit: limit.unit, uncertainty: limit.uncertainty, n: limit.n, observed_share: limit.observed, limit: limit.value, side: limit.side, outcome: limit.outcome, text: [limit.source, ...(limit.why === null ? [] : [limit.why])].join('; ') }));
  const days = record.watched.flatMap(({ quantity, unit, uncertainty, days: each }) => each.map((day): Row => ({ row: 'day', from_utc: day.from, to_utc: day.to, local: day.day, quantity, value: day.n === 0 ? 'not measured' : null, unit, uncertainty, lowest: day.min, mean: day.mean, highest: day.max, n: day.n, observed_share: day.observed })));
  const gaps = record.watched.flatMap(({ quantity, gaps: each }) => each.map(({ from, to, reason, byHand }): Row => ({ row: 'gap', from_utc: from, to_utc: to, local: local(from), quantity, value: 'not measured', n: byHand, text: reason ?? 'reason not recorded' })));
  const hand = record.byHand.map((value): Row => ({
    row: 'measured', from_utc: value.at, local: local(value.at), quantity: value.of === 'jar' ? `jar-${value.quantity}` : value.quantity, value: value.value, unit: value.unit, uncertainty: value.uncertainty,
    mark: value.notUsable === null ? null : 'u', instrument: value.instrument ?? 'not named', by: value.by, entry: value.entry, text: [...(value.jar === null ? [] : [`jar ${value.jar}`]), ...(value.notUsable === null ? [] : [value.notUsable])].join('; '),
  }));
  const acts = record.acts.map((act): Row => ({
    row: 'act', from_utc: act.at, local: local(act.at), quantity: act.kind, by: act.by, entry: act.sequence, mark: [...(act.standing ? [] : ['struck']), ...(act.late === null ? [] : [act.late === 'late' ? 'LATE' : 'later'])].join(' '),
    text: [act.text, ...(act.note === null ? [] : [act.note]), ...(act.correctedBy === null ? [] : [`corrected by entry ${act.correctedBy.entry}: ${act.correctedBy.reason}`])].join('; '),
  }));
  const departures = record.departures.map(({ number, quantity, from, to, peak, bound, cause, actions, disposition }): Row => ({ row: 'departure', from_utc: from, to_utc: to, local: local(from), quantity, value: peak, unit: bound.unit, limit: bound.value, side: bound.side, mark: number, text: [cause ?? 'cause not recorded', actions.length === 0 ? 'action not recorded' : actions.map(({ text }) => text).join(', '), disposition ?? 'disposition not recorded'].join('; ') }));
  const checks = record.calibrations.map(({ instrument, at, by, text, failed }): Row => ({ row: 'check', from_utc: at, local: local(at), instrument, by, outcome: failed === null ? 'passed' : 'failed', text: failed === null ? text : `${text}; ${failed}` }));
  const missing = record.missing.map(({ what, why, from, to }): Row => ({ row: 'missing', from_utc: from, to_utc: to, quantity: what, value: 'not measured', text: why }));
  return [...limits, ...departures, ...missing, ...days, ...gaps, ...hand, ...acts, ...checks].map((row) => ({ ...row, lot }));
};
