import type { Drum, NewEntry, Task } from '#contract';
import { fromLocalField, localField } from '../format/time.ts';
import { settles } from './task-act.ts';

/** A day sheet from the shed, typed in by box number and value. Boxes are numbered as they are printed: drum, then box. */
export const boxNames = ['temperature', 'ph', 'salt', 'taste', 'litres', 'saltIn', 'time', 'who'] as const;
export type BoxName = (typeof boxNames)[number];

export const boxLabels: Readonly<Record<BoxName, string>> = {
  temperature: 'temp. °C', ph: 'pH', salt: 'salt g/L', taste: 'taste 0–10', litres: 'litres in', saltIn: 'kg salt in', time: 'time', who: 'who',
};

/** `poured`: what the litres were; null while nobody has said. */
export type Poured = 'change' | 'top-up';

export type Boxes = Partial<Record<BoxName, string>> & { readonly poured?: Poured };

/** By lot, so that a drum that came or went since the sheet was printed moves nobody's figures. */
export interface SheetDraft {
  readonly date: string;
  readonly drums: Readonly<Record<string, Boxes>>;
}

export interface SheetStop {
  readonly number: number;
  readonly drum: string;
  readonly name: string;
  readonly lot: string;
  /** Brine in the drum, and its strength as last poured. */
  readonly brineL: number;
  readonly saltGPerL: number;
}

type Row = Pick<Drum, 'id' | 'name' | 'batch'>;

/** Drums as the sheet numbers them: those with fruit in them, in the order of the walk. */
export const sheetStops = (drums: readonly Row[], strengthOf: (lot: string) => number | null): readonly SheetStop[] =>
  drums
    .flatMap(({ id, name, batch }) => (batch === null || batch.jarredAt !== null ? [] : [{ drum: id, name, batch }]))
    .map(({ drum, name, batch }, index) => ({ number: index + 1, drum, name, lot: batch.lot, brineL: batch.brineL, saltGPerL: strengthOf(batch.lot) ?? batch.saltGPerL }));

export const emptyDraft = (now: number, zone: string): SheetDraft => ({ date: localField(now, zone).slice(0, 10), drums: {} });

export const isFilled = (boxes: Boxes): boolean => boxNames.some((name) => name !== 'who' && name !== 'time' && (boxes[name] ?? '').trim() !== '');

/** A comma is a point; anything else that is no number is no number. */
export const numberOf = (text: string | undefined): number | null => {
  const typed = (text ?? '').trim().replace(',', '.');
  return /^-?\d+(\.\d*)?$/.test(typed) ? Number(typed) : null;
};

/** `14:30`, `14.30`, `1430`, `930` and `9` are times; null where it is none. */
export const timeOf = (text: string | undefined): string | null => {
  const found = /^(\d{1,2})(?:[:.h ]?(\d{2}))?$/.exec((text ?? '').trim());
  const [hour, minute] = [Number(found?.[1]), Number(found?.[2] ?? 0)];
  return found === null || hour > 23 || minute > 59 ? null : `${String(hour).padStart(2, '0')}:${String(minute).padStart(2, '0')}`;
};

/** More than half of the brine is a change, less is a topping up; whoever poured may say otherwise. */
export const pouredOf = (boxes: Boxes, stop: Pick<SheetStop, 'brineL'>): Poured => boxes.poured ?? ((numberOf(boxes.litres) ?? 0) > stop.brineL / 2 ? 'change' : 'top-up');

export interface Fault {
  readonly box: BoxName;
  readonly words: string;
}

/** What one drum's boxes say: acts, each with the boxes it came from, or what is wrong with them. */
export interface Told {
  readonly acts: readonly { readonly boxes: readonly BoxName[]; readonly entry: NewEntry }[];
  readonly faults: readonly Fault[];
}

const limits = { temperature: [-20, 60], ph: [0, 14], salt: [0, 360], taste: [0, 10], litres: [0.01, 5_000], saltIn: [0, 1_000] } as const;
type NumberBox = keyof typeof limits;

/** `time`: of the drum above, where this one's box is empty: people write it once. */
export const toldBy = (boxes: Boxes, stop: SheetStop, { date, time, zone, now }: { readonly date: string; readonly time: string | null; readonly zone: string; readonly now: number }): Told => {
  const faults: Fault[] = [];
  const value = (box: NumberBox): number | null => {
    if ((boxes[box] ?? '').trim() === '') return null;
    const found = numberOf(boxes[box]);
    const [low, high] = limits[box];
    if (found !== null && found >= low && found <= high) return found;
    faults.push({ box, words: found === null ? 'is no number' : `must lie between ${String(low)} and ${String(high)}` });
    return null;
  };
  const clock = timeOf(boxes.time);
  if ((boxes.time ?? '').trim() !== '' && clock === null) faults.push({ box: 'time', words: 'is no time of day: write 14:30' });
  const at = fromLocalField(`${date}T${clock ?? time ?? ''}`, zone);
  if (isFilled(boxes) && clock === null && time === null) faults.push({ box: 'time', words: 'when was this done?' });
  if (clock !== null && at !== null && at > now) faults.push({ box: 'time', words: 'that lies ahead of now; is the day right?' });
  const stamp = new Date(at ?? now).toISOString();
  const who = (boxes.who ?? '').trim();
  const act = { at: stamp, writtenAt: stamp, ...(who === '' ? {} : { note: `on paper, by ${who}` }) };

  const acts: { boxes: BoxName[]; entry: NewEntry }[] = [];
  const [temperature, ph, salt, taste, litres, saltKg] = [value('temperature'), value('ph'), value('salt'), value('taste'), value('litres'), value('saltIn')];
  if (temperature !== null) acts.push({ boxes: ['temperature'], entry: { kind: 'measured', quantity: 'temperature', value: temperature, ...act } });
  if (ph !== null) acts.push({ boxes: ['ph'], entry: { kind: 'measured', quantity: 'ph', value: ph, ...act } });
  if (salt !== null) acts.push({ boxes: ['salt'], entry: { kind: 'measured', quantity: 'salinity', value: salt, ...act } });
  if (taste !== null) acts.push({ boxes: ['taste'], entry: { kind: 'tasted', bitterness: taste, ...act } });
  if (litres !== null) {
    const saltGPerL = saltKg === null ? stop.saltGPerL : Math.round((saltKg * 10_000) / litres) / 10;
    if (saltGPerL > 358) faults.push({ box: 'saltIn', words: 'is more than that much brine can hold' });
    const isChange = pouredOf(boxes, stop) === 'change';
    const fraction = Math.min(1, Math.round((litres / stop.brineL) * 100) / 100);
    acts.push({ boxes: ['litres', 'saltIn'], entry: isChange ? { kind: 'brine-changed', brineL: litres, saltGPerL, ...(fraction < 0.9 ? { fraction } : {}), ...act } : { kind: 'brine-topped-up', brineL: litres, saltGPerL, ...act } });
  } else if (saltKg !== null && saltKg > 0) acts.push({ boxes: ['saltIn'], entry: { kind: 'salt-added', saltG: Math.round(saltKg * 1_000), ...act } });
  return { acts, faults };
};

/** The open task that an act on paper settles. */
export const taskFor = (tasks: readonly Task[], lot: string, entry: NewEntry): string | null => tasks.find((task) => task.lot === lot && settles(task, entry))?.id ?? null;

/** What is left to type when some boxes have gone into the journal; the time and who stay for the rest of the drum. */
export const withoutBoxes = (draft: SheetDraft, lot: string, sent: readonly BoxName[]): SheetDraft => {
  const left: Boxes = Object.fromEntries(Object.entries(draft.drums[lot] ?? {}).filter(([name]) => !(sent as readonly string[]).includes(name)));
  const { [lot]: _, ...others } = draft.drums;
  return { ...draft, drums: isFilled(left) ? { ...others, [lot]: left } : others };
};

const place = 'brineward.sheet';

export interface SheetStore {
  /** Null where nothing is typed: an empty sheet is of today. */
  readonly read: () => SheetDraft | null;
  readonly write: (draft: SheetDraft) => void;
}

/** What is typed is kept at once, letter by letter: leaving the page loses nothing. */
export const createSheetStore = (storage: Pick<Storage, 'getItem' | 'setItem'>): SheetStore => ({
  read: () => {
    try {
      const kept: unknown = JSON.parse(storage.getItem(place) ?? 'null');
      return typeof kept === 'object' && kept !== null && typeof (kept as SheetDraft).date === 'string' && typeof (kept as SheetDraft).drums === 'object' && Object.values((kept as SheetDraft).drums).some(isFilled) ? (kept as SheetDraft) : null;
    } catch {
      return null;
    }
  },
  write: (draft) => {
    try {
      storage.setItem(place, JSON.stringify(draft));
    } catch {
      // A browser that keeps nothing: the page still holds it while it is open.
    }
  },
});
