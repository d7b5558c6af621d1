import { fromRfc3339 } from '../units/time.ts';
import { localMoment, localTime } from './local-time.ts';
import type { LotRecord, RecordDeparture, RecordLimit } from './lot-record.ts';
import { cureRibbon } from './ribbon.ts';
import type { SheetPart, SheetRow } from './sheet.ts';
import { table } from './sheet.ts';
import { duration, limitWords, percent, quantityWord, shown, withUncertainty } from './values.ts';

/** On every paper of a record. */
export const noApproval = 'This record shows what was measured and done. It is not an approval. Limits are general; your authority and a process authority decide.';
const noTaste = 'Toxin gives no reliable smell or taste. Do not taste to check.';
const onlyCompetent = 'Only a competent person or authority may clear held product.';
const askClass = 'Ask your authority whether this product counts as fermented or acidified.';

/** Lines of each list that page one has room for; the rest stands behind. */
const roomFor = { departures: 5, missing: 7, instruments: 5 } as const;

/** Page one: which lot, whose limits, inside or not, what went wrong and how it ended, whether instruments were checked, where the jars are. */
export const frontOf = (record: LotRecord): readonly SheetPart[] => {
  const { batch, clock, packing, producer, site, madeAt } = record;
  const date = (at: string): string => localTime(at, clock).date;
  const packed = packing.at(-1);
  const jars = packing.reduce((sum, each) => sum + each.jars, 0);
  const { time, offset } = localTime(madeAt, clock);
  const ribbon = cureRibbon(record);
  return [
    { kind: 'pair', left: `Lot ${record.lot}`, right: `Site ${site.name === '' ? site.id : site.name}`, strong: true },
    { kind: 'pair', left: madeBy(record), right: `Printed ${date(madeAt)} ${time} (${offset}, ${site.zone})` },
    { kind: 'pair', left: `${producer?.product ?? 'Olives in brine'}: ${batch.cut}, ${batch.style.replaceAll('-', ' ')}, ${batch.maturity}${batch.variety === null ? '' : `, ${batch.variety}`}`, right: classWords(record) },
    {
      kind: 'pair',
      left: `Picked ${date(batch.pickedAt)}. Started ${date(batch.startedAt)} in ${batch.drumName}, ${batch.fruitKg} kg. ${packed === undefined ? 'Not packed' : `Packed ${date(packed.at)}: ${jars} jars of ${packed.jarMl} mL`}.`,
      right: packed === undefined ? '' : `Best before ${record.bestBefore ?? 'not chosen'}`,
    },
    stateOf(record),
    limitTable(onceEach(record.limits.filter(({ priority }) => priority !== 'low'))),
    ...(ribbon === null ? [] : [{ kind: 'ribbon', ribbon } as const]),
    { kind: 'labelled', label: 'Drum pH', lines: [phLine(record)] },
    { kind: 'labelled', label: `Departures ${departureLines(record).length}`, lines: some(departureLines(record), roomFor.departures, 'none were announced') },
    { kind: 'labelled', label: 'Missing', lines: missingLines(record) },
    { kind: 'labelled', label: 'Instruments', lines: some(record.instruments.map(({ id, measures, text }) => `${id} (${measures}): ${text}`), roomFor.instruments, 'none were used') },
    { kind: 'labelled', label: 'Jars', lines: [jarLine(record)] },
    { kind: 'labelled', label: 'Entries', lines: [entriesLine(record)] },
    ...cautions(record).map((text): SheetPart => ({ kind: 'text', text })),
    { kind: 'sign', text: reviewWords(record) },
    { kind: 'text', text: noApproval, strong: true },
  ];
};

/** The same limit of several stages is one line on page one, with its worst finding and its source in a few words; each stands apart behind. */
const onceEach = (limits: readonly RecordLimit[]): readonly RecordLimit[] =>
  [...Map.groupBy(limits, ({ quantity, side, value }) => `${quantity} ${side} ${value}`).values()].flatMap((rows) => {
    const [graver] = rows.toSorted((one, other) => gravity[one.outcome] - gravity[other.outcome]);
    if (graver === undefined) return [];
    const found = rows.flatMap(({ worst }) => worst ?? []);
    const observed = rows.flatMap(({ observed: share }) => share ?? []);
    return [{
      ...graver,
      stage: rows.length === 1 ? graver.stage : '',
      source: inShort(graver.source),
      worst: found.length === 0 ? null : graver.side === 'high' ? Math.max(...found) : Math.min(...found),
      uncertainty: Math.max(0, ...rows.flatMap(({ uncertainty }) => uncertainty ?? [])),
      n: rows.reduce((sum, { n }) => sum + n, 0),
      observed: observed.length === 0 ? null : Math.min(...observed),
      excursions: rows.reduce((sum, { excursions }) => sum + excursions, 0),
      why: graver.worst === null && found.length > 0 ? 'not measured in every stage' : graver.why,
    }];
  });

/** Its whole wording stands behind. */
const inShort = (source: string): string => source.split(/[:;] | \(/)[0] ?? source;

const gravity: Readonly<Record<RecordLimit['outcome'], number>> = { outside: 0, unknown: 1, inside: 2 };

/** What was outside by its readings, with no alert, is told too: the readings may have come late, or nobody watched. */
const departureLines = (record: LotRecord): readonly string[] => [
  ...record.departures.map((each) => departureLine(each, record)),
  ...record.limits.filter(({ outcome, excursions, priority }) => outcome === 'outside' && excursions === 0 && priority !== 'low').map((limit) => `${limitWords(limit)}: found outside (${shown(limit.worst, limit.unit)}), with no departure written down`),
];

const madeBy = ({ producer }: LotRecord): string =>
  producer === null ? 'Made by: not recorded' : `Made by ${producer.name ?? 'not recorded'}, ${producer.address ?? 'address not recorded'}${producer.licence === null ? '' : `, licence ${producer.licence}`}`;

const classWords = ({ producer }: LotRecord): string => {
  const told = producer?.productClass ?? null;
  return told === null ? 'Class: not decided' : `Class: ${told.word} (decided by ${told.by ?? 'not recorded'}${told.on === null ? '' : `, ${told.on}`})`;
};

const stateOf = ({ state, clock }: LotRecord): SheetPart => {
  const since = state.since === null ? '' : ` since ${localMoment(state.since, clock)}`;
  const by = state.by === null ? '' : state.word === 'released' ? ` by ${state.by}` : `, by ${state.by}`;
  return { kind: 'state', word: state.word.toUpperCase(), text: `${since.trim()}${by}${state.reason === null ? '' : `, because: ${state.reason}`}` };
};

export const limitTable = (limits: readonly RecordLimit[]): SheetPart =>
  table(
    [
      { title: 'limit (who set it)', share: 48 },
      { title: 'worst value ± U', share: 18 },
      { title: 'n', share: 11, right: true },
      { title: 'observed', share: 12, right: true },
      { title: 'result', share: 24 },
    ],
    limits.map(limitRow),
    'No limit stood for this lot.',
  );

const limitRow = (limit: RecordLimit): SheetRow => {
  const { source, setBy, worst, uncertainty, unit, n, observed, outcome, why, excursions } = limit;
  const times = excursions === 0 ? '' : ` ${excursions === 1 ? 'once' : `${excursions} times`}`;
  const result = outcome === 'outside' ? `OUTSIDE${times}` : `${outcome}${times === '' ? '' : `, alert${times}`}`;
  return {
    cells: [`${limitWords(limit)} (${setBy === null ? source : `${source}; set by ${setBy.who}, entry ${setBy.entry}`})`, withUncertainty(worst, uncertainty, unit), String(n), percent(observed), `${result}${why === null || worst === null ? '' : `: ${why}`}`],
    ...(outcome === 'outside' ? { strong: true } : {}),
  };
};

export const departureLine = ({ number, quantity, bound, from, to, peak, closed, disposition, acknowledged }: RecordDeparture, { clock }: LotRecord): string => {
  const lasted = to === null ? 'not over' : duration(fromRfc3339(to) - fromRfc3339(from));
  const end = closed === null ? `${acknowledged === null ? 'not acknowledged' : `acknowledged by ${acknowledged.by}`}; ${number === null ? 'not a critical limit' : 'OPEN, disposition not recorded'}` : `closed by ${closed.by}: ${disposition ?? 'disposition not recorded'}`;
  return `${number ?? '-'} ${quantityWord(quantity)} ${peak === null ? '' : `${shown(peak, bound.unit)} `}against ${shown(bound.value, bound.unit)}, from ${localMoment(from, clock)}, ${lasted}; ${end}`;
};

/** Things nobody wrote down share a line; what is missing of the measurements has one each. */
const missingLines = ({ missing, clock }: LotRecord): readonly string[] => {
  const [measured, unwritten] = [missing.filter(({ why }) => why !== 'nobody has written it down'), missing.filter(({ why }) => why === 'nobody has written it down')];
  const lines = measured.map(({ what, why, from, to }) => `${what}${from === null ? '' : to === null ? ` since ${localMoment(from, clock)}` : ` from ${localMoment(from, clock)} (${duration(fromRfc3339(to) - fromRfc3339(from))})`}: ${why}`);
  return some([...(unwritten.length === 0 ? [] : [`not recorded: ${unwritten.map(({ what }) => what.replace(/ not recorded$/, '')).join('; ')}`]), ...lines], roomFor.missing, 'nothing that is asked for here');
};

const some = (lines: readonly string[], most: number, none: string): readonly string[] =>
  lines.length === 0 ? [none] : lines.length <= most ? lines : [...lines.slice(0, most - 1), `and ${lines.length - most + 1} more, told behind`];

const phLine = ({ phCourse, clock }: LotRecord): string => {
  if (phCourse === null) return 'not measured as evidence';
  const { limit, firstAt, day, lostAt, last } = phCourse;
  const reached = firstAt === null ? `not yet found at or below ${shown(limit, 'pH')} with its uncertainty` : `at or below ${shown(limit, 'pH')} with its uncertainty from day ${day ?? 0} (${localTime(firstAt, clock).date})${lostAt === null ? '' : `, found above again up to ${localTime(lostAt, clock).date}`}`;
  return `${reached}${last === null ? '' : `; last ${withUncertainty(last.value, last.uncertainty, 'pH')} on ${localTime(last.at, clock).date}`}`;
};

const jarLine = ({ jars, clock }: LotRecord): string => {
  if (jars === null) return 'not in jars';
  const gone = jars.out.reduce((sum, { jars: count }) => sum + count, 0);
  const otherwise = Object.entries(jars.otherwise).filter(([, count]) => count > 0);
  const sum = [`${gone} gone out`, ...otherwise.map(([what, count]) => `${count} ${what}`), `${jars.left} in store`].join(' + ');
  const back = jars.returned === 0 ? '' : ` + ${jars.returned} come back`;
  const counted = jars.counted === null ? 'The store was not counted: unaccounted not known.' : `Counted ${jars.counted.jars} on ${localTime(jars.counted.at, clock).date}: unaccounted ${jars.counted.unaccounted}.`;
  return `${jars.filled} filled${back} = ${sum}. ${counted}`;
};

const entriesLine = ({ acts, journal }: LotRecord): string => {
  const later = acts.filter(({ late }) => late === 'later').length;
  const late = acts.filter(({ late: mark }) => mark === 'late').length;
  const corrected = acts.filter(({ correctedBy }) => correctedBy !== null).length;
  return `${acts.length} acts; ${later} written later than two hours, ${late} LATE by more than a day, ${corrected} corrected. ${journal.length} entries of the journal concern this lot.`;
};

const cautions = ({ limits, state, producer, departures }: LotRecord): readonly string[] => {
  const jarPh = limits.find(({ quantity }) => quantity === 'jar-ph');
  return [
    ...(jarPh !== undefined && jarPh.outcome !== 'inside' ? [noTaste] : []),
    ...(state.word === 'on hold' || state.word === 'recalled' || departures.some(({ number, closed }) => number !== null && closed === null) ? [onlyCompetent] : []),
    ...(producer?.productClass == null ? [askClass] : []),
  ];
};

const reviewWords = ({ reviews, clock }: LotRecord): string => {
  const last = reviews.at(-1);
  return last === undefined ? 'Not reviewed in the program.' : `Reviewed in the program by ${last.by} at ${localMoment(last.at, clock)}, entries up to ${last.until}${last.found === null ? '' : `; found: ${last.found}`}.`;
};
