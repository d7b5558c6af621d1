import type { Alert } from './alert.ts';
import { defaultLimits } from './default-limits.ts';
import type { LimitKind } from './limit.ts';

const kinds = new Map<string, LimitKind>(defaultLimits.map(({ id, kind }) => [id, kind]));

/** What kind of limit an alert stands for. */
export const kindOfRule = (rule: string): LimitKind => kinds.get(rule) ?? 'range';

/** The one thing to do first, in a few words: what is read from across the shed. The advice says the rest. */
export const actNow = ({ rule, quantity, priority, limit }: Pick<Alert, 'rule' | 'quantity' | 'priority' | 'limit'>): string => {
  switch (kindOfRule(rule)) {
    case 'silence':
    case 'fault':
    case 'rate':
    case 'stuck':
      return 'Look at the probe';
    case 'due':
      return rule.startsWith('soak') ? 'Change the water' : 'Change the brine';
    case 'forecast':
      return 'See the heat plan';
    case 'exposure':
      return 'Shade the drum';
    case 'collector':
      return 'Measure by hand';
    case 'calibration':
      return 'Calibrate the electrode';
    case 'milestone':
    case 'rebound':
      return 'Measure pH again';
    case 'outlet':
      return 'Look here yourself';
    case 'range':
      return actInRange(quantity, limit.side !== 'low', priority === 'high');
  }
};

const actInRange = (quantity: string, isHigh: boolean, isDanger: boolean): string => {
  switch (quantity) {
    case 'temperature':
      return isHigh ? (isDanger ? 'Cool the drum now' : 'Shade the drum') : 'Move it somewhere milder';
    case 'ph':
      return 'Measure pH again';
    case 'salinity':
      return isHigh ? 'Add no salt' : 'Stir, measure salt again';
    default:
      return 'Look at the drum';
  }
};
