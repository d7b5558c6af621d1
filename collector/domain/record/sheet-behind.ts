import { localMoment, localTime } from './local-time.ts';
import type { HandValue, LotRecord, WatchedQuantity } from './lot-record.ts';
import type { RecordAct } from './record-story.ts';
import { limitTable, departureLine } from './sheet-front.ts';
import { table, text, type SheetPart, type SheetRow, type SheetSection } from './sheet.ts';
import { duration, percent, quantityWord, shown, withUncertainty } from './values.ts';

/** What stands behind page one, in the order an inspector reads on. */
export const behindOf = (record: LotRecord): readonly SheetSection[] => [
  { title: 'All limits that stood', parts: [limitTable(record.limits)] },
  { title: 'pH, with the calibrations of each day', parts: [handTable(record, record.byHand.filter(({ quantity }) => quantity === 'ph'), 'No pH was measured by hand.'), checkTable(record, record.calibrations.filter(({ kind }) => kind !== 'ice-point'), 'No calibration of a pH meter was written down.'), ...watchedParts(record, 'ph')] },
  { title: 'Temperature, day by day', parts: [...watchedParts(record, 'temperature'), handTable(record, record.byHand.filter(({ quantity }) => quantity === 'temperature'), 'No temperature was measured by hand.')] },
  { title: 'Acts in order', parts: [actTable(record, record.acts)] },
  { title: 'Brine, salt and acid', parts: [brineStart(record), actTable(record, record.acts.filter(({ kind }) => brineKinds.has(kind))), ingredientTable(record), handTable(record, record.byHand.filter(({ quantity }) => quantity === 'salinity'), 'No salt was measured by hand.'), ...watchedParts(record, 'salinity')] },
  { title: 'Departures in full', parts: departureParts(record) },
  { title: 'Jars and where they went', parts: jarParts(record) },
  { title: 'Instruments and their checks', parts: instrumentParts(record) },
  { title: 'Fruit', parts: [fruitTable(record)] },
  { title: 'What is missing', parts: [table([{ title: 'what', share: 45 }, { title: 'from', share: 16 }, { title: 'to', share: 16 }, { title: 'why', share: 45 }], record.missing.map(({ what, why, from, to }) => ({ cells: [what, from === null ? '-' : localMoment(from, record.clock), to === null ? '-' : localMoment(to, record.clock), why] })), 'Nothing that is asked for here.')] },
  { title: 'Corrections and late entries', parts: correctionParts(record) },
  { title: 'Journal entries that concern this lot', parts: journalParts(record) },
  { title: 'Sealed days', parts: sealParts(record) },
];

const brineKinds: ReadonlySet<string> = new Set(['brine-changed', 'brine-topped-up', 'salt-added', 'acid-added']);

const handTable = ({ clock }: LotRecord, values: readonly HandValue[], empty: string): SheetPart =>
  table(
    [{ title: 'measured', share: 18 }, { title: 'of', share: 14 }, { title: 'value ± U', share: 16 }, { title: 'instrument', share: 16 }, { title: 'by', share: 12 }, { title: 'usable as evidence', share: 26 }],
    values.map(({ at, of, jar, value, uncertainty, unit, instrument, by, notUsable }) => ({
      cells: [localMoment(at, clock), of === 'drum' ? 'drum' : `jar ${jar ?? 'not named'}`, `${withUncertainty(value, uncertainty, unit)}${notUsable === null ? '' : ' u'}`, instrument ?? 'not named', by, notUsable === null ? 'yes' : `u, no: ${notUsable}`],
    })),
    empty,
  );

const watchedParts = (record: LotRecord, quantity: string): readonly SheetPart[] => {
  const watched = record.watched.find((each) => each.quantity === quantity);
  if (watched === undefined) return [text(`No probe watched the ${quantityWord(quantity)}.`)];
  return [text(`Probes: ${watched.probes.join(', ')}; ± ${shown(watched.uncertainty, watched.unit)}. Observed for ${percent(watched.observed)} of the time. An average never stands for the extremes.`), dayTable(watched), gapTable(record, watched)];
};

const dayTable = ({ days, unit }: WatchedQuantity): SheetPart =>
  table(
    [{ title: 'local day', share: 16 }, { title: 'lowest', share: 14, right: true }, { title: 'mean', share: 14, right: true }, { title: 'highest', share: 14, right: true }, { title: 'n', share: 10, right: true }, { title: 'observed', share: 14, right: true }],
    days.map(({ day, min, mean, max, n, observed }) => ({ cells: [day, shown(min, unit), shown(mean, unit), shown(max, unit), String(n), percent(observed)] })),
    'Nothing was measured.',
  );

const gapTable = ({ clock }: LotRecord, { gaps }: WatchedQuantity): SheetPart =>
  table(
    [{ title: 'gap from', share: 18 }, { title: 'to', share: 18 }, { title: 'length', share: 12 }, { title: 'reason', share: 30 }, { title: 'by hand meanwhile', share: 18 }],
    gaps.map(({ from, to, reason, byHand }) => ({ cells: [localMoment(from, clock), localMoment(to, clock), duration(Date.parse(to) - Date.parse(from)), reason ?? 'not recorded', byHand === 0 ? 'not measured' : `measured ${byHand} times`] })),
    'No gap.',
  );

const actTable = ({ clock }: Pick<LotRecord, 'clock'>, acts: readonly RecordAct[]): SheetPart =>
  table([{ title: 'no.', share: 7, right: true }, { title: 'done', share: 17 }, { title: 'what', share: 50 }, { title: 'by', share: 12 }, { title: 'written', share: 22 }], acts.map((act): SheetRow => actRow(act, clock)), 'Nothing was written down.');

const actRow = ({ sequence, at, writtenAt, paperAt, text: words, note, by, late, standing, corrects, correctedBy }: RecordAct, clock: LotRecord['clock']): SheetRow => {
  const written = corrects !== null ? `corrects ${corrects}` : late === null ? 'at the time' : `${localMoment(writtenAt, clock)} ${late === 'late' ? 'LATE' : 'later'}${paperAt === null ? '' : `, on paper ${localMoment(paperAt, clock)}`}`;
  return { cells: [String(sequence), localMoment(at, clock), `${words}${note === null ? '' : ` (${note})`}`, by, correctedBy === null ? written : `${written}; corrected by ${correctedBy.entry}`], ...(standing ? {} : { struck: true }) };
};

const brineStart = ({ batch }: LotRecord): SheetPart => text(`First brine: ${batch.brineL} L with ${batch.saltGPerL} g salt per L on ${batch.fruitKg} kg of fruit${batch.acid === null ? ', no acid written down' : `, ${batch.acid}`}.`);

const ingredientTable = ({ ingredients, clock }: LotRecord): SheetPart =>
  table(
    [{ title: 'lot used', share: 14 }, { title: 'what', share: 20 }, { title: 'supplier', share: 24 }, { title: 'received', share: 14 }, { title: 'their lot', share: 14 }, { title: 'best before', share: 12 }, { title: 'in entries', share: 14 }],
    ingredients.map(({ id, item, name, supplier, receivedAt, theirLot, bestBefore, usedIn }) => ({ cells: [id, `${item}: ${name}`, supplier, localTime(receivedAt, clock).date, theirLot ?? 'not recorded', bestBefore ?? 'not recorded', usedIn.join(', ')] })),
    'Lots of salt, acid, jars and lids: not recorded.',
  );

const departureParts = (record: LotRecord): readonly SheetPart[] => [
  text('Each time outside a limit as the program announced it, reading and uncertainty together. One with a number such as D-1 is a deviation from a critical limit. "Unknown" in the table of limits can stand beside a departure: the value alone was inside.'),
  ...(record.departures.length === 0 ? [text('None were announced.')] : record.departures.flatMap((departure): SheetPart[] => [
    { kind: 'text', text: departureLine(departure, record), strong: true },
    text(`Limit ${departure.limit} (${departure.bound.source}). Cause: ${departure.cause ?? 'not recorded'}. Done: ${departure.actions.length === 0 ? 'not recorded' : departure.actions.map(({ text: done, by, at }) => `${done} (${by}${at === null ? '' : `, ${localMoment(at, record.clock)}`})`).join('; ')}. Against repeat: ${departure.prevention ?? 'not recorded'}. Product judged: ${departure.evaluation ?? 'not recorded'}. Disposition: ${departure.disposition ?? 'not recorded'}. ${departure.closed === null ? 'Not closed.' : `Closed by ${departure.closed.by} at ${localMoment(departure.closed.at, record.clock)}.`}`),
  ])),
];

const jarParts = ({ jars, packing, clock }: LotRecord): readonly SheetPart[] => [
  table(
    [{ title: 'packed', share: 18 }, { title: 'jars', share: 10, right: true }, { title: 'brine, acid, heat', share: 40 }, { title: 'ingredients', share: 30 }, { title: 'by', share: 12 }],
    packing.map(({ at, jars: count, jarMl, brine, acid, heat, coldC, ingredients, by }) => ({ cells: [localMoment(at, clock), `${count} × ${jarMl} mL`, [brine, acid ?? 'no acid', heat ?? 'no heat', ...(coldC === null ? [] : [`kept at ${coldC} °C`])].join('; '), ingredients.length === 0 ? 'not recorded' : ingredients.join(', '), by] })),
    'Not packed.',
  ),
  table([{ title: 'gone out', share: 18 }, { title: 'jars', share: 8, right: true }, { title: 'to', share: 50 }, { title: 'entry', share: 8, right: true }], (jars?.out ?? []).map(({ at, jars: count, to, entry }) => ({ cells: [localMoment(at, clock), String(count), to, String(entry)] })), 'No jar has gone out.'),
];

const instrumentParts = ({ instruments, calibrations, clock }: Pick<LotRecord, 'instruments' | 'calibrations' | 'clock'>): readonly SheetPart[] => [
  table([{ title: 'instrument', share: 18 }, { title: 'measures', share: 20 }, { title: 'values', share: 10, right: true }, { title: 'state', share: 50 }], instruments.map(({ id, measures, used, text: words, state }) => ({ cells: [id, measures, String(used), `${state === 'not-calibrated' ? 'u, ' : ''}${words}`] })), 'None were used.'),
  checkTable({ clock }, calibrations, 'No check was written down.'),
  text('± covers, at 95 %: buffers or reference, drift since the check, the salt of the brine, and the last digit shown. Certificates of references: not recorded.'),
];

const checkTable = ({ clock }: Pick<LotRecord, 'clock'>, checks: LotRecord['calibrations'], empty: string): SheetPart =>
  table(
    [{ title: 'checked', share: 17 }, { title: 'instrument', share: 14 }, { title: 'found', share: 54 }, { title: 'by', share: 11 }, { title: 'result', share: 18 }],
    checks.map(({ at, instrument, text: found, by, failed, doubt }) => ({ cells: [localMoment(at, clock), instrument, found, by, failed === null ? (doubt === null ? 'passed' : `passed; before it in doubt: ${doubt}`) : `FAILED: ${failed}`], ...(failed === null ? {} : { strong: true }) })),
    empty,
  );

const fruitTable = ({ batch, clock }: LotRecord): SheetPart =>
  table([{ title: 'pick', share: 16 }, { title: 'picked', share: 18 }, { title: 'kg', share: 10, right: true }, { title: 'trees', share: 30 }, { title: 'block', share: 16 }], batch.picks.map(({ pick, at, kg, trees, block }) => ({ cells: [pick, at === null ? 'not recorded' : localMoment(at, clock), String(Math.round(kg * 10) / 10), trees.length === 0 ? 'not recorded' : trees.join(', '), block ?? 'not recorded'] })), `No pick was written down for it${batch.trees === null ? '' : `; trees as written: ${batch.trees}`}.`);

const correctionParts = ({ acts, clock }: LotRecord): readonly SheetPart[] => [
  table(
    [{ title: 'entry', share: 8, right: true }, { title: 'was', share: 34 }, { title: 'corrected by entry', share: 12, right: true }, { title: 'who, when', share: 24 }, { title: 'why', share: 30 }],
    acts.flatMap(({ sequence, text: words, correctedBy }) => (correctedBy === null ? [] : [{ cells: [String(sequence), words, String(correctedBy.entry), `${correctedBy.who}, ${correctedBy.at === '' ? 'not known' : localMoment(correctedBy.at, clock)}`, correctedBy.reason] }])),
    'Nothing was corrected.',
  ),
  actTable({ clock }, acts.filter(({ late }) => late !== null)),
];

const journalParts = ({ journal }: LotRecord): readonly SheetPart[] => [
  text('Numbers run over the whole site; entries between these concern other lots. Times in UTC. Each hash covers the entry and the hash before it.'),
  table([{ title: 'no.', share: 7, right: true }, { title: 'written (UTC)', share: 20 }, { title: 'who', share: 14 }, { title: 'kind', share: 18 }, { title: 'SHA-256, first half', share: 36, code: true }], journal.map(({ sequence, time, who, kind, hash }) => ({ cells: [String(sequence), time.slice(0, 19).replace('T', ' '), who, kind, hash.slice(0, 32)] })), 'None.'),
];

const sealParts = ({ seals, madeAt, clock }: LotRecord): readonly SheetPart[] => [
  text('Each entry below holds the SHA-256 of the readings of its day, and covers all entries before it. The digest of each block stands in the signed data.'),
  table(
    [{ title: 'day', share: 16 }, { title: 'entry', share: 8, right: true }, { title: 'series', share: 34 }, { title: 'readings', share: 10, right: true }, { title: 'SHA-256 of the entry, first half', share: 38, code: true }],
    seals.map(({ day, entry, amends, hash, blocks }) => ({ cells: [amends ? `${day}, late` : day, String(entry), blocks.map(({ series }) => series).join(', ') || 'none of this lot', String(blocks.reduce((sum, { count }) => sum + count, 0)), hash.slice(0, 32)] })),
    `No day of this lot is sealed yet by ${localTime(madeAt, clock).date}.`,
  ),
];
