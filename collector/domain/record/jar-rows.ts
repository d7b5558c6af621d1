import type { JarGate } from '../jar/jar-gate.ts';
import type { EpochMs } from '../units/time.ts';
import { channels } from '../reading/channel.ts';
import { toRfc3339 } from '../units/time.ts';
import { judgeValue } from './judge-value.ts';
import type { HandValue, RecordLimit } from './lot-record.ts';

/** Natural olives: at least 6 % salt. In g/L, as brine is measured here. */
const leastSaltGPerL = 60;
const saltSource = 'CXS 66-1981, natural olives: at least 6 % salt';

/** What is asked of the packed jars: their pH by the packed-jar rule, and the salt of the brine after it has come to rest. */
export const jarRows = (gate: JarGate | null, jarredAt: EpochMs | null, byHand: readonly HandValue[]): readonly RecordLimit[] => {
  if (gate === null || jarredAt === null) return [];
  const since = toRfc3339(jarredAt);
  const salt = byHand.filter(({ of, quantity, at }) => of === 'drum' && quantity === 'salinity' && at >= since);
  const usable = salt.filter(({ notUsable }) => notUsable === null).map(({ value }) => value);
  const worstSalt = usable.length === 0 ? null : Math.min(...usable);
  const judged = judgeValue({ side: 'low', limit: leastSaltGPerL, worst: worstSalt, uncertainty: channels.salinity.uncertainty, notUsable: null, watched: null });
  const worstPh = gate.jars.length === 0 ? null : Math.max(...gate.jars.map(({ last }) => last.ph));
  const common = { stage: 'packed jars', setBy: null, priority: 'high', from: since, to: null, observed: null, excursions: 0 } as const;
  return [
    {
      ...common, id: gate.limit.id, quantity: 'jar-ph', side: 'high', value: gate.limit.ph, unit: 'pH', source: gate.limit.source,
      worst: worstPh, uncertainty: gate.uncertainty === null ? null : Math.round(gate.uncertainty.expanded * 1_000) / 1_000, n: gate.jars.length, outcome: gate.verdict, why: gate.verdict === 'inside' ? null : phWhy(gate),
    },
    { ...common, id: 'jar-salinity', quantity: 'jar-salinity', side: 'low', value: leastSaltGPerL, unit: 'g/L', source: saltSource, worst: worstSalt, uncertainty: worstSalt === null ? null : channels.salinity.uncertainty, n: usable.length, outcome: judged.outcome, why: judged.why },
  ];
};

const unmetWords: Readonly<Record<JarGate['unmet'][number], string>> = {
  'no-reading': 'not measured as evidence',
  'too-few-jars': 'too few jars',
  'not-repeated': 'not measured again',
  'still-moving': 'still changing',
  'high-reading-in-doubt': 'a high reading is in doubt',
  'too-close': 'too close to say',
};

const phWhy = ({ verdict, unmet, discounted }: JarGate): string | null => {
  const words = unmet.map((each) => unmetWords[each]);
  if (verdict !== 'outside' && discounted.length > 0) words.push(`${discounted.length} not usable`);
  return words.length === 0 ? null : words.join(', ');
};
