/**
 * The contract between the API and whoever calls it: schemas, routes, event names, error codes. Browser-safe:
 * it may import zod and the domain, nothing else. The dashboard learns the server from here only.
 */
export * from './access.ts';
export * from './acts.ts';
export * from './alerts.ts';
export * from './batches.ts';
export { parseWithoutEval } from './browser.ts';
export * from './calculators.ts';
export type { CalculatorAnswer, CalculatorInput, Calculators } from './calculate/index.ts';
export * from './calibrations.ts';
export * from './common.ts';
export * from './compare.ts';
export * from './deviations.ts';
export * from './drums.ts';
export * from './errors.ts';
export * from './heat.ts';
export * from './imports.ts';
export * from './inspections.ts';
export * from './jars.ts';
export * from './journal.ts';
export * from './limits.ts';
export * from './live.ts';
export * from './outlets.ts';
export * from './papers.ts';
export * from './picks.ts';
export * from './probe-health.ts';
export * from './probes.ts';
export * from './producer.ts';
export * from './questions.ts';
export * from './record-list.ts';
export * from './readiness.ts';
export * from './records.ts';
export * from './routes.ts';
export * from './schedules.ts';
export * from './season.ts';
export * from './site.ts';
export * from './stall.ts';
export * from './stores.ts';
export * from './tasks.ts';
export * from './tokens.ts';
export * from './trace.ts';
export * from './what-if.ts';
export { acids, cureStyles, cuts, maturities, stages, sweetBitterness, restDays, type Acid, type Cut, type CureStyle, type Maturity, type Stage } from '#domain/cure/batch.ts';
export { channels, channelNames, isChannel as isChannelName, type Channel } from '#domain/reading/channel.ts';
export { bufferPh, bufferSets, type BufferSet } from '#domain/acid/buffers.ts';
export { calibrateElectrode, type ElectrodeCalibration } from '#domain/acid/electrode.ts';
export { unitsOf } from '#domain/units/convert.ts';
export { fail, ok, type Result } from '#domain/result.ts';
export { slugPattern } from '#domain/reading/reading.ts';
export { dayMs, hourMs, minuteMs, secondMs } from '#domain/units/time.ts';
export { percentWwFrom } from '#domain/brine/bases.ts';
export { settledPercentWw } from '#domain/brine/settled-strength.ts';
export { fleshWaterL } from '#domain/cure/brine-ratio.ts';
export { changeSaltBrine, saltUptakePerDay, settledSalt, takeUpSalt, type SaltState } from '#domain/brine/salt-change.ts';
export { opensHold, signOf, signs } from '#domain/observe/signs.ts';
export { signCaution, type Sign } from '#domain/observe/sign.ts';
export { jarCautions } from '#domain/jar/cautions.ts';
export { harvestYield } from '#domain/season/yield.ts';
export { maturityClasses, maturityIndex } from '#domain/season/maturity-index.ts';
export { maturitySpread } from '#domain/season/maturity-spread.ts';
export { cullCauses } from '#domain/season/pick.ts';
export { handlings, type Handling } from '#domain/journal/handlings.ts';

/** The calculators themselves are loaded when something is to be worked out: they bring nearly all formulas with them. */
export const loadCalculators = () => import('./calculate/index.ts');
export type LoadedCalculators = Awaited<ReturnType<typeof loadCalculators>>;
