import type { DrumFlag, NowValue } from '#contract';
import { inDrum, type Stage } from '#domain/cure/batch.ts';
import type { Alert } from '#domain/rules/alert.ts';
import { kindOfRule } from '#domain/rules/act-now.ts';

/**
 * The one mark a drum's row carries: state and word. Danger before caution before unknown before inside; what is not measured is
 * never shown as inside.
 */
export interface Flag {
  readonly state: DrumFlag;
  readonly word: string;
}

export const flagOf = (stage: Stage | null, temperature: NowValue, alerts: readonly Alert[]): Flag => {
  if (stage === null) return { state: 'empty', word: 'empty' };
  if (!inDrum.has(stage)) return { state: 'done', word: stage === 'ready' ? 'ready' : 'jarred' };
  const outside = alerts.filter(({ state, priority }) => (state === 'unacknowledged' || state === 'acknowledged') && priority !== 'note');
  const judged = outside.filter(({ rule }) => !['silence', 'fault', 'forecast', 'rate', 'stuck', 'exposure', 'calibration'].includes(kindOfRule(rule)));
  const danger = judged.find(({ priority }) => priority === 'high');
  if (danger !== undefined) return { state: 'danger', word: wordOf(danger) };
  const unknown = unknownWord(temperature, outside);
  const caution = judged[0];
  if (unknown !== null) return { state: 'unknown', word: unknown };
  if (caution !== undefined) return { state: 'caution', word: wordOf(caution) };
  if (alerts.some(({ state, priority }) => state === 'returned' && priority === 'high')) return { state: 'caution', word: 'was outside' };
  // What was put aside is not inside: it is only not announced.
  if (alerts.some(({ state, priority }) => (state === 'shelved' || state === 'out-of-service') && priority !== 'note')) return { state: 'caution', word: 'put aside' };
  return { state: 'inside', word: 'inside' };
};

const unknownWord = (temperature: NowValue, alerts: readonly Alert[]): string | null => {
  if ('absent' in temperature) return temperature.absent === 'no-probe' ? 'no probe' : 'no reading';
  if (temperature.quality === 'stale') return temperature.source === 'person' ? 'old reading' : 'silent';
  if (temperature.quality !== 'good') return 'faulty';
  return alerts.some(({ rule, quantity }) => kindOfRule(rule) === 'fault' && quantity === 'temperature') ? 'faulty' : null;
};

const wordOf = (alert: Alert): string => {
  if (kindOfRule(alert.rule) === 'due') return 'late';
  const high = alert.limit.side !== 'low';
  switch (alert.quantity) {
    case 'temperature':
      return high ? (alert.priority === 'high' ? 'hot' : 'warm') : 'cold';
    case 'ph':
      return high ? 'pH high' : 'pH low';
    case 'salinity':
      return high ? 'salt high' : 'salt low';
    default:
      return 'outside';
  }
};
