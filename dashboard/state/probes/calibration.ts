import { bufferPh, calibrateElectrode, type BufferSet, type ElectrodeCalibration } from '#contract';
import { typedNumber } from '../../format/units.ts';
import { bottleTold, noBottle, type BottleText } from './bottles.ts';

/** Bottles as they are sold: two families whose "7" is not the same. */
export const families = {
  technical: { words: '4.00, 7.00 (and 10.01)', sets: ['technical-7', 'technical-4', 'technical-10'] },
  standard: { words: '4.01, 6.86 (and 9.18)', sets: ['phosphate', 'phthalate', 'borax'] },
} as const satisfies Record<string, { readonly words: string; readonly sets: readonly BufferSet[] }>;
export type Family = keyof typeof families;
export const familyNames = Object.keys(families) as readonly Family[];

/** What a person fills in for one buffer, kept as text so that half a number stays half a number. */
export interface BufferEntry extends BottleText {
  readonly set: BufferSet;
  readonly mv: string;
}

export const entriesOf = (family: Family): readonly BufferEntry[] => families[family].sets.map((set) => ({ set, mv: '', ...noBottle }));

/** What is in the bottle at this temperature; null outside the range its table covers. */
export const phOfBuffer = (set: BufferSet, temperatureC: number | null): number | null => {
  const ph = temperatureC === null ? null : bufferPh(set, temperatureC);
  return ph?.ok === true ? Number(ph.value.toFixed(3)) : null;
};

export const bufferName = (set: BufferSet): string => {
  const atRoom = phOfBuffer(set, 25);
  return atRoom === null ? set : atRoom.toFixed(2);
};

export interface Judged {
  readonly points: readonly { readonly ph: number; readonly mv: number; readonly bottle?: { readonly lot?: string; readonly expiresOn?: string; readonly openedOn?: string } }[];
  readonly electrode: ElectrodeCalibration | null;
  /** Why it cannot be judged yet; null: it can. */
  readonly missing: string | null;
  /** What speaks against the buffers themselves. */
  readonly cautions: readonly string[];
}

/** The electrode as the buffers typed so far find it. */
export const judgeEntries = (entries: readonly BufferEntry[], temperatureC: number | null, today: string): Judged => {
  const points = entries.flatMap((entry) => {
    const [ph, value] = [phOfBuffer(entry.set, temperatureC), typedNumber(entry.mv)];
    if (ph === null || value === null) return [];
    return [{ ph, mv: value, ...bottleTold(entry) }];
  });
  const cautions = entries.filter(({ mv, expiresOn }) => typedNumber(mv) !== null && expiresOn !== '' && expiresOn < today).map(({ set }) => `The ${bufferName(set)} buffer is past its date. Open a fresh one: an old buffer makes an honest electrode lie.`);
  if (temperatureC === null) return { points, electrode: null, missing: 'Say how warm the buffers are.', cautions };
  if (points.length < 2) return { points, electrode: null, missing: 'Two buffers are needed: one gives no slope.', cautions };
  const electrode = calibrateElectrode(points, temperatureC);
  return electrode.ok ? { points, electrode: electrode.value, missing: null, cautions } : { points, electrode: null, missing: `${electrode.error.message}.`, cautions };
};

export const verdictWords = {
  good: { state: 'inside', word: 'good', hint: 'The electrode does what an electrode should.' },
  check: { state: 'caution', word: 'check', hint: 'Clean it (warm mild detergent for oil, a pepsin soak for protein, warm dilute KCl for a blocked junction), put it in storage solution, and calibrate again.' },
  replace: { state: 'danger', word: 'replace', hint: 'Clean it and take fresh buffers. If it stays so, do not believe its pH: replace it.' },
} as const;

/** Half a degree is what a common sensor promises; past one it is not the part it says it is (assumption from bench comparisons). */
export const iceVerdict = (readingC: number): { readonly state: 'inside' | 'caution' | 'danger'; readonly word: string; readonly hint: string } => {
  const off = Math.abs(readingC);
  if (off <= 0.5) return { state: 'inside', word: 'good', hint: 'Within half a degree of melting ice.' };
  return off <= 1 ? { state: 'caution', word: 'check', hint: 'Cheap or damp. Stir again, wait, and look at it again next month.' } : { state: 'danger', word: 'replace', hint: 'More than a degree off. If stirring and more ice do not mend it, replace the sensor.' };
};
