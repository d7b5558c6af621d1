import { phUncertaintyAt } from '../acid/ph-uncertainty-at.ts';
import { expectedSaltGPerL } from '../cure/salt-now.ts';
import { isAct, type Batch, type StoryAct } from '../journal/shed.ts';
import { channels } from '../reading/channel.ts';
import { checksOf } from './doubt.ts';
import { evidenceOf, type Evidence, type InstrumentBook } from './evidence.ts';

/** Whether what a person measured may stand as evidence; null: the act is no measurement. */
export const actEvidence = (act: StoryAct, book: InstrumentBook): Evidence | null => {
  if (isAct('jar-ph')(act)) return evidenceOf({ quantity: 'ph', instrument: act.body.instrument, by: 'hand', lot: act.body.lot, at: act.at }, book);
  if (!isAct('measured')(act)) return null;
  const { quantity, instrument = null, lot } = act.body;
  return evidenceOf({ quantity, instrument, by: 'hand', lot, at: act.at }, book);
};

/** How far what a person measured may be from the truth: of a pH by its meter's calibration and the salt of the brine, else as usual. */
export const actUncertainty = (act: StoryAct, batch: Batch, { calibrations }: Pick<InstrumentBook, 'calibrations'>): number | null => {
  const isJar = isAct('jar-ph')(act);
  if (!isJar && !isAct('measured')(act)) return null;
  if (!isJar && act.body.quantity !== 'ph') return channels[act.body.quantity].uncertainty;
  const { instrument } = act.body;
  const calibration = instrument === undefined ? undefined : checksOf(calibrations.get(instrument) ?? [], 'ph', act.at).findLast(({ kind }) => kind === 'ph');
  // Without a meter that is known the usual one is told; that the value is no evidence is said beside it.
  if (calibration?.kind !== 'ph') return channels.ph.uncertainty;
  return phUncertaintyAt({ at: act.at, saltGPerL: saltKnownAt(batch, act.at), calibration });
};

/** The salt of a brine by the last measurement since it was last changed, else by what was poured and has gone into the fruit. */
const saltKnownAt = (batch: Batch, at: number): number => {
  const changedAt = batch.acts.filter(isAct('brine-changed')).findLast((act) => act.at <= at)?.at ?? batch.startedAt;
  const measured = batch.acts.filter(isAct('measured')).findLast((act) => act.body.quantity === 'salinity' && act.at <= at && act.at >= changedAt);
  return measured?.body.value ?? Math.max(0, expectedSaltGPerL(batch, at));
};
