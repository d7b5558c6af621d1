import type { FruitPick, Sorting } from '../season/pick.ts';
import { fromRfc3339 } from '../units/time.ts';
import type { EntryOf } from './entry.ts';
import { withEntry } from './map.ts';
import type { PickAmended, PickFacts } from './pick-entries.ts';
import type { Shed } from './shed.ts';

/** How picks come to be known: picked, told more of, sorted. */
export const pickFruit = (shed: Shed, { body, who, sequence }: EntryOf<'picked'>): Shed => {
  if (shed.picks.has(body.pick)) return shed;
  const bare: FruitPick = {
    pick: body.pick, at: fromRfc3339(body.at), until: null, trees: [], block: null, variety: null, massKg: null, buckets: null, bucketKg: null,
    counts: null, byEye: null, damage: {}, note: null, by: who, sequence, sortings: [], amendedBy: [], takenBack: null,
  };
  return keep(shed, told(bare, body));
};

export const amendPick = (shed: Shed, { body, sequence }: EntryOf<'pick-amended'>): Shed => {
  const pick = shed.picks.get(body.pick);
  if (pick === undefined) return shed;
  const amended = told(pick, body);
  return keep(shed, { ...amended, at: body.at === undefined ? pick.at : fromRfc3339(body.at), amendedBy: [...pick.amendedBy, sequence], takenBack: body.takenBack ?? pick.takenBack });
};

export const sortPick = (shed: Shed, { body, who, sequence }: EntryOf<'sorted'>): Shed => {
  const pick = shed.picks.get(body.pick);
  if (pick === undefined) return shed;
  const sorting: Sorting = { sequence, at: fromRfc3339(body.at), by: who, culls: body.culls, counts: body.counts ?? null, note: body.note ?? null, standing: true };
  const before = pick.sortings.map((earlier) => (earlier.sequence === body.replaces ? { ...earlier, standing: false } : earlier));
  return keep(shed, { ...pick, sortings: [...before, sorting].sort((one, other) => one.at - other.at || one.sequence - other.sequence) });
};

const keep = (shed: Shed, pick: FruitPick): Shed => ({ ...shed, picks: withEntry(shed.picks, pick.pick, pick) });

/** What is told takes the place of what stood; what is not told stays. */
const told = (pick: FruitPick, facts: PickFacts & Pick<PickAmended, 'note'>): FruitPick => ({
  ...pick,
  until: facts.until === undefined ? pick.until : fromRfc3339(facts.until),
  trees: facts.trees ?? pick.trees,
  block: facts.block ?? pick.block,
  variety: facts.variety ?? pick.variety,
  // A weight told later beats the buckets, and buckets told later beat an earlier weight.
  massKg: facts.massKg ?? (facts.buckets === undefined ? pick.massKg : null),
  buckets: facts.buckets ?? pick.buckets,
  bucketKg: facts.bucketKg ?? pick.bucketKg,
  counts: facts.counts ?? (facts.maturity === undefined ? pick.counts : null),
  byEye: facts.maturity ?? pick.byEye,
  damage: facts.damage ?? pick.damage,
  note: facts.note ?? pick.note,
});
