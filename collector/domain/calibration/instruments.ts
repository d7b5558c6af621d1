import { calibrateElectrode } from '../acid/electrode.ts';
import { isStrip } from '../jar/strip.ts';
import type { HandInstrument, KeptCalibration } from '../journal/kept-checks.ts';
import { isAct, type Shed } from '../journal/shed.ts';
import { seriesParts, type SeriesId } from '../reading/reading.ts';
import { dayMs, fromRfc3339, type EpochMs } from '../units/time.ts';
import { instrumentBookOf } from './book.ts';
import { checksOf, type Measured } from './doubt.ts';
import { evidenceOf } from './evidence.ts';
import { failedCheck, foundWrong } from './failed-check.ts';
import { inDoubt, type DoubtWithLots } from './in-doubt.ts';

/** One check of an instrument, with what follows from it. */
export interface CheckLine {
  readonly check: KeptCalibration;
  readonly at: EpochMs;
  readonly failed: string | null;
  readonly foundWrong: string | null;
  readonly slopePercent: number | null;
  readonly offsetMv: number | null;
  readonly errorC: number | null;
  readonly bufferError: number | null;
}

/** How an instrument stands for one quantity it measures. */
export interface InstrumentUse {
  readonly measured: Measured;
  /** Why what it tells now is no evidence; null: it is. */
  readonly notUsable: string | null;
  /** When its next check is due; null: it has never been checked. */
  readonly dueAt: EpochMs | null;
}

export interface Instrument {
  readonly id: string;
  readonly name: string;
  readonly kind: 'probe' | 'hand';
  readonly added: HandInstrument | null;
  readonly uses: readonly InstrumentUse[];
  /** Newest first. */
  readonly checks: readonly CheckLine[];
  readonly doubts: readonly DoubtWithLots[];
}

/** Every instrument the shed leans on: those that were added, those people named, and probes of pH and temperature that watch, or watched, a drum. */
export const instrumentsOfShed = (shed: Shed, zone: string, now: EpochMs): readonly Instrument[] => {
  const uses = new Map<string, { kind: Instrument['kind']; measured: Set<Measured> }>();
  const note = (id: string, kind: Instrument['kind'], measured: Measured): void => {
    const known = uses.get(id) ?? { kind, measured: new Set() };
    known.measured.add(measured);
    uses.set(id, kind === 'probe' ? { ...known, kind } : known);
  };
  for (const { id, measures } of shed.instruments.values()) note(id, 'hand', measures);
  for (const [probe, checks] of shed.calibrations) for (const { kind } of checks) note(probe, 'hand', kind === 'ice-point' ? 'temperature' : 'ph');
  for (const { written } of shed.batches.values()) {
    for (const act of written) {
      if (isAct('jar-ph')(act) && !isStrip(act.body.instrument)) note(act.body.instrument, 'hand', 'ph');
      else if (isAct('measured')(act) && act.body.quantity !== 'salinity' && act.body.instrument !== undefined && !isStrip(act.body.instrument)) note(act.body.instrument, 'hand', act.body.quantity);
    }
  }
  for (const [series, placements] of shed.placements) {
    const { probe, channel } = seriesParts(series as SeriesId);
    if ((channel === 'ph' || channel === 'temperature') && placements.some(({ drum }) => drum !== null)) note(probe, 'probe', channel);
  }
  return [...uses].map(([id, { kind, measured }]) => instrumentOf(shed, id, kind, [...measured].toSorted(), zone, now)).toSorted((one, other) => (one.id < other.id ? -1 : 1));
};

const instrumentOf = (shed: Shed, id: string, kind: Instrument['kind'], measured: readonly Measured[], zone: string, now: EpochMs): Instrument => {
  const book = instrumentBookOf(shed, zone, now);
  const checks = shed.calibrations.get(id) ?? [];
  const added = shed.instruments.get(id) ?? null;
  return {
    id, kind, added,
    name: added?.name ?? id,
    uses: measured.map((quantity) => {
      const evidence = evidenceOf({ quantity, instrument: id, by: kind, lot: null, at: now }, book);
      const last = checksOf(checks, quantity, now).findLast((check) => check.kind !== 'buffer-check' && failedCheck(check, book.settings) === null);
      const days = quantity === 'temperature' ? book.settings.icePointDays : book.settings.probePhDays;
      return { measured: quantity, notUsable: evidence.usable ? null : evidence.text, dueAt: last === undefined ? null : last.madeAt + days * dayMs };
    }),
    checks: checks.map((check) => lineOf(check, book.settings)).toSorted((one, other) => other.at - one.at),
    doubts: inDoubt(shed, id, now),
  };
};

const lineOf = (check: KeptCalibration, settings: ReturnType<typeof instrumentBookOf>['settings']): CheckLine => {
  const electrode = check.kind === 'ph' ? calibrateElectrode(check.points, check.temperatureC) : null;
  return {
    check,
    at: fromRfc3339(check.at),
    failed: failedCheck(check, settings),
    foundWrong: foundWrong(check, settings),
    slopePercent: electrode?.ok === true ? electrode.value.slopePercent : null,
    offsetMv: electrode?.ok === true ? electrode.value.offsetMv : null,
    errorC: check.kind === 'ice-point' ? check.readingC - check.referenceC : null,
    bufferError: check.kind === 'buffer-check' ? check.reads - check.ph : null,
  };
};
