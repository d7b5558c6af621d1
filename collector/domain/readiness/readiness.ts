import { checkSettingsWith } from '../calibration/check-settings.ts';
import { instrumentBookOf } from '../calibration/book.ts';
import { instrumentsOfShed } from '../calibration/instruments.ts';
import { jarGateOf } from '../jar/jar-evidence.ts';
import { jarStock } from '../jar/jar-stock.ts';
import { isAct, type Shed } from '../journal/shed.ts';
import type { Alert } from '../rules/alert.ts';
import type { EpochMs } from '../units/time.ts';
import { readinessLevels, type Finding, type ReadinessFacts, type ReadinessInput, type ReadinessLevel } from './finding.ts';
import { readinessRules } from './rules.ts';

export interface CheckResult {
  readonly id: string;
  readonly level: ReadinessLevel;
  readonly what: string;
  readonly state: 'open' | 'nothing-open' | 'not-recorded';
  readonly why: string | null;
  readonly findings: readonly (Finding & { readonly level: ReadinessLevel })[];
}

/** Nothing in these checks says that a lot is fit to eat or to sell: they tell what is open, and who may decide. */
export const readinessOf = (shed: Shed, zone: string, now: EpochMs, facts: ReadinessFacts = { verified: null }): readonly CheckResult[] => {
  const input = inputOf(shed, zone, now, facts);
  return readinessRules
    .map(({ id, level, what, check }): CheckResult => {
      const answer = check(input);
      if ('notRecorded' in answer) return { id, level, what, state: 'not-recorded', why: answer.notRecorded, findings: [] };
      const findings = answer.map((finding) => ({ ...finding, level: finding.level ?? level })).toSorted((one, other) => rank(one.level) - rank(other.level));
      return { id, level: findings[0]?.level ?? level, what, state: findings.length === 0 ? 'nothing-open' : 'open', why: null, findings };
    })
    .toSorted((one, other) => states.indexOf(one.state) - states.indexOf(other.state) || rank(one.level) - rank(other.level) || (one.id < other.id ? -1 : 1));
};

const states = ['open', 'not-recorded', 'nothing-open'] as const;
const rank = (level: ReadinessLevel): number => readinessLevels.indexOf(level);

const inputOf = (shed: Shed, zone: string, now: EpochMs, facts: ReadinessFacts): ReadinessInput => ({
  shed, zone, now, facts,
  settings: checkSettingsWith(shed.checkSettings),
  instruments: instrumentsOfShed(shed, zone, now),
  alerts: allAlerts(shed),
  lots: [...shed.batches.values()].map((batch) => ({
    batch,
    gate: jarGateOf(batch, instrumentBookOf(shed, zone, now)),
    stock: jarStock(batch.acts, now),
    released: batch.jarredAt !== null && batch.acts.some((act) => isAct('release')(act) && act.at >= (batch.jarredAt ?? 0) && act.at <= now),
  })),
});

const allAlerts = (shed: Shed): readonly Alert[] => {
  const alerts = [...shed.openAlerts.values()];
  for (let past = shed.pastAlerts; past !== null; past = past.before) alerts.push(past.alert);
  return alerts;
};

/** The sum in one sentence. The best there is to say is that nothing is open in these checks, and only where all could be worked out. */
export const readinessWords = (checks: readonly CheckResult[]): string => {
  const unknown = checks.filter(({ state }) => state === 'not-recorded').length;
  const counts = readinessLevels.map((level) => ({ level, count: checks.flatMap(({ findings }) => findings).filter((finding) => finding.level === level).length })).filter(({ count }) => count > 0);
  const tail = unknown === 0 ? '' : ` ${String(unknown)} ${unknown === 1 ? 'check' : 'checks'} could not be worked out: not recorded.`;
  if (counts.length > 0) return `Open: ${counts.map(({ level, count }) => `${String(count)} to ${level}`).join(', ')}.${tail}`;
  return unknown === 0 ? 'Nothing open in these checks.' : `Nothing open in the checks that could be worked out.${tail}`;
};
