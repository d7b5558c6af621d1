import type { CheckSettingShown, Instrument as InstrumentShape } from '#contract';
import { checkDefaults, checkSettingNames, checkSettingsWith } from '#domain/calibration/check-settings.ts';
import { instrumentsOfShed, type CheckLine, type Instrument } from '#domain/calibration/instruments.ts';
import type { DoubtWithLots } from '#domain/calibration/in-doubt.ts';
import type { Shed } from '#domain/journal/shed.ts';
import { calibrationText } from '#domain/record/instruments.ts';
import { toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { personOf } from './shape.ts';
import type { ShedModel } from './shed-model.ts';

const timeOrNull = (at: EpochMs | null): string | null => (at === null ? null : toRfc3339(at));
const rounded = (value: number | null, digits: number): number | null => (value === null ? null : Number(value.toFixed(digits)));

/** Every instrument with its checks and what they put in doubt. */
export const instrumentViews = (model: ShedModel): InstrumentShape[] => instrumentsOfShed(model.shed(), model.zone, model.clock.now()).map(shapeOf);

const shapeOf = ({ id, name, kind, added, uses, checks, doubts }: Instrument): InstrumentShape => ({
  id, name, kind,
  serial: added?.serial ?? null,
  inUseSince: added?.inUseSince ?? null,
  certificate: added?.certificate ?? null,
  uses: uses.map(({ measured, notUsable, dueAt }) => ({ measured, notUsable, dueAt: timeOrNull(dueAt) })),
  checks: checks.map(checkShape),
  doubts: doubts.map(doubtShape),
});

const checkShape = ({ check, at, failed, foundWrong, slopePercent, offsetMv, errorC, bufferError }: CheckLine): InstrumentShape['checks'][number] => ({
  sequence: check.sequence,
  kind: check.kind,
  at: toRfc3339(at),
  by: personOf(check.by),
  text: calibrationText(check),
  failed, foundWrong,
  slopePercent: rounded(slopePercent, 1),
  offsetMv: rounded(offsetMv, 1),
  errorC: rounded(errorC, 2),
  bufferError: rounded(bufferError, 3),
  buffers: (check.kind === 'ph' ? check.points : check.kind === 'buffer-check' ? [check] : []).map(({ ph, bottle }) => ({ ph, lot: bottle?.lot ?? null, expiresOn: bottle?.expiresOn ?? null, openedOn: bottle?.openedOn ?? null })),
  note: check.note ?? null,
});

const doubtShape = ({ check, measured, why, from, to, lots }: DoubtWithLots): InstrumentShape['doubts'][number] => ({
  check, measured, why,
  from: timeOrNull(from),
  to: toRfc3339(to),
  lots: lots.map(({ lot, entries, watched, decided }) => ({
    lot, watched,
    entries: [...entries],
    decided: decided === null ? null : { decision: decided.decision, reason: decided.reason, by: personOf(decided.by), at: toRfc3339(decided.at) },
  })),
});

/** The numbers checks go by, with what they are by default and whose they are. */
export const checkSettingViews = ({ checkSettings }: Pick<Shed, 'checkSettings'>): CheckSettingShown[] => {
  const inForce = checkSettingsWith(checkSettings);
  return checkSettingNames.map((name) => {
    const { value, low, high, unit, words, source } = checkDefaults[name];
    return { name, value: inForce[name], byDefault: value, low, high, unit, words, source: inForce[name] === value ? source : 'set by the owner' };
  });
};
