import { bareCode } from '../cure/near-code.ts';
import { jarStock } from '../jar/jar-stock.ts';
import { isAct } from '../journal/shed.ts';
import { dayMs, fromRfc3339 } from '../units/time.ts';
import { isOut, onBatch, type Finding, type ReadinessRule } from './finding.ts';

const onProducer = (text: string, act: string): Finding => ({ lot: null, text, act, place: { screen: 'producer', id: null } });

/** Behind it: class never decided, process not set by a qualified person (21 CFR 114.83; Illinois Public Act 102-0633). */
export const undecidedClass: ReadinessRule = {
  id: 'R18', level: 'stop', what: 'Class of the product not decided',
  check: ({ shed, lots }) => {
    if (!lots.some(({ batch }) => batch.jarredAt !== null)) return [];
    const decided = shed.producer?.productClass ?? null;
    if (decided === null) return [onProducer('Nobody has decided whether the product counts as fermented, acidified, refrigerated or heat-treated.', 'Ask your authority, and write down the decision.')];
    return decided.word === 'acidified' && (decided.by === null || decided.on === null) ? [onProducer('The product is called acidified, without the name and the paper behind it.', 'Write down who decided it, and on what.')] : [];
  },
};

/** Behind it: no recall procedure; no yearly exercise (an FDA warning letter of 2015; New Zealand asks one every 12 months). */
export const noExercise: ReadinessRule = {
  id: 'R19', level: 'fix', what: 'No exercise of a recall in twelve months',
  check: ({ shed, lots, now }) => {
    if (!lots.some(({ stock }) => stock.distributed > 0)) return [];
    const last = Math.max(...shed.recallExercises.map(({ endedAt }) => fromRfc3339(endedAt)));
    if (now - last <= 366 * dayMs) return [];
    return [{ lot: null, text: Number.isFinite(last) ? 'The last exercise of a recall is more than twelve months ago.' : 'A recall has never been played through.', act: 'Run an exercise from the trace.', place: { screen: 'recall', id: null } }];
  },
};

/** Behind it: lot code missing or not unique (Texas Health and Safety Code 437.01951). */
export const reusedLots: ReadinessRule = {
  id: 'R20', level: 'stop', what: 'Lot codes that are not unique',
  check: ({ lots }) => {
    const seen = new Map<string, string>();
    return lots.flatMap(({ batch: { lot } }) => {
      const bare = bareCode(lot);
      const other = seen.get(bare);
      seen.set(bare, lot);
      return other === undefined ? [] : [onBatch(lot, `The code reads like that of lot ${other}.`, 'Mark the jars of one of them anew.')];
    });
  },
};

/** Behind it: sources unknown (WAC 16-149-100; 21 CFR 1.337). */
export const unknownSources: ReadinessRule = {
  id: 'R21', level: 'fix', what: 'Ingredients without supplier, lot or receipt',
  check: ({ shed, lots }) => [
    ...[...shed.ingredients.values()].filter(({ supplier, theirLot }) => supplier.trim() === '' || theirLot === null).map(({ id, name, supplier }): Finding => ({ lot: null, text: `${name} (${id}) has no ${supplier.trim() === '' ? 'supplier' : 'lot of the supplier'}.`, act: 'Write down what stands on the sack.', place: { screen: 'stores', id } })),
    ...lots.filter(isOut).filter(({ batch }) => batch.lots.length === 0 && !batch.acts.some((act) => act.standing && 'lots' in act.body && (act.body.lots?.length ?? 0) > 0)).map(({ batch }) => onBatch(batch.lot, 'No act names the lot of salt, acid, jars or lids it used.', 'Name them, as a correction of the act.')),
  ],
};

/** Behind it: distribution unknown (21 CFR 114.100 (d)). */
export const unaccountedJars: ReadinessRule = {
  id: 'R22', level: 'fix', what: 'Jars that are neither here nor gone',
  check: ({ lots }) =>
    lots.flatMap(({ batch, stock }) => {
      if (stock.left < 0) return [onBatch(batch.lot, `${String(-stock.left)} more jars went out than were filled.`, 'Correct the packing or what was given away.')];
      const counted = batch.acts.filter(isAct('jars-noted')).findLast(({ body }) => body.what === 'counted');
      if (counted === undefined) return [];
      const off = jarStock(batch.acts, counted.at).left - counted.body.jars;
      return off === 0 ? [] : [onBatch(batch.lot, `${String(Math.abs(off))} jars ${off > 0 ? 'fewer' : 'more'} were counted than should be here.`, 'Write down where they went.')];
    }),
};

/** Behind it: labels without ingredients, maker or weights (public recall reports). */
export const labelFields: ReadinessRule = {
  id: 'R24', level: 'stop', what: 'Fields of the label that are empty',
  check: ({ shed, lots }) => {
    const onSale = lots.filter(({ batch, stock }) => batch.jarredAt !== null && stock.left > 0);
    if (onSale.length === 0) return [];
    const { name = null, address = null, product = null, weights = [] } = shed.producer ?? {};
    const missing = [...(name === null ? ['name of the producer'] : []), ...(address === null ? ['address'] : []), ...(product === null ? ['name of the product'] : []), ...(weights.length === 0 ? ['net and drained weight'] : [])];
    return [
      ...(missing.length === 0 ? [] : [onProducer(`Not written down: ${missing.join(', ')}.`, 'Fill in the facts of the producer.')]),
      ...onSale.filter(({ batch }) => batch.acts.filter(isAct('jarred')).some(({ body }) => body.ingredients.length === 0)).map(({ batch }) => onBatch(batch.lot, 'The ingredients of the jars are not written down.', 'Name them, as a correction of the packing.')),
    ];
  },
};
