import { fail, ok, type Result } from '../result.ts';
import type { EpochMs } from '../units/time.ts';

/**
 * Resolution of a SenML pack (RFC 8428 section 4.6) already parsed from JSON or decoded from CBOR.
 * Base fields apply to the records after them; times below 2^28 s are relative to the arrival; the answer holds no base fields.
 * Worked example: `[{"bn":"a:","bt":1320067464,"n":"t","u":"Cel","v":20},{"n":"t","t":60,"v":21}]` → `a:t` at …464 s and …524 s.
 */
export interface SenmlRecord {
  readonly name: string;
  readonly unit: string | null;
  /** Only numeric values matter here; a string, boolean, data value or a bare sum is null. */
  readonly value: number | null;
  readonly at: EpochMs;
  /** False where the time counts from the arrival. */
  readonly hasOwnTime: boolean;
  /** `ut`: the longest time before the next reading, if the sender gives it. */
  readonly updateS: number | null;
}

export const senmlFailures = ['senml-not-a-pack', 'senml-version', 'senml-name', 'senml-field', 'senml-must-understand', 'senml-value'] as const;
export type SenmlFailure = (typeof senmlFailures)[number];

/** RFC 8428 section 4.5.3: seconds below this are relative to now. */
const relativeBelowS = 2 ** 28;
/** RFC 8428 section 4.4: the version this text of the standard defines. */
const supportedVersion = 10;
/** Section 4.5.1: which characters a resolved name may hold and how it may begin. */
const namePattern = /^[A-Za-z0-9][A-Za-z0-9\-:./_]*$/;
/** A pack in one message is bounded anyway; this keeps a hostile one from costing more than its bytes. */
export const mostRecords = 2_000;

type Raw = Readonly<Record<string, unknown>>;

const isNumber = (value: unknown): value is number => typeof value === 'number' && Number.isFinite(value);
const valueLabels = ['v', 'vs', 'vb', 'vd'] as const;
const numericLabels = ['bt', 'bv', 'bs', 't', 'ut', 'v', 's'] as const;
const baseLabels: ReadonlySet<string> = new Set(['bver', 'bn', 'bt', 'bu', 'bv', 'bs']);
const textLabels = ['bn', 'bu', 'n', 'u', 'vs', 'vd'] as const;

export const resolveSenml = (pack: unknown, arrivedAt: EpochMs): Result<readonly SenmlRecord[], SenmlFailure> => {
  if (!Array.isArray(pack) || pack.length === 0 || pack.length > mostRecords) return fail('senml-not-a-pack');
  const records: SenmlRecord[] = [];
  let baseName = '';
  let baseTimeS = 0;
  let baseUnit: string | null = null;
  let baseValue = 0;
  let hasBaseValue = false;
  let hasBaseSum = false;
  for (const raw of pack as readonly unknown[]) {
    if (typeof raw !== 'object' || raw === null || Array.isArray(raw)) return fail('senml-not-a-pack');
    const record = raw as Raw;
    const problem = checkFields(record);
    if (problem !== null) return fail(problem);
    if (typeof record.bn === 'string') baseName = record.bn;
    if (isNumber(record.bt)) baseTimeS = record.bt;
    if (typeof record.bu === 'string') baseUnit = record.bu;
    if (isNumber(record.bv)) {
      baseValue = record.bv;
      hasBaseValue = true;
    }
    if (isNumber(record.bs)) hasBaseSum = true;

    const values = valueLabels.filter((label) => record[label] !== undefined).length;
    if (values > 1) return fail('senml-value');
    if (values === 0 && record.s === undefined && !hasBaseSum && !hasBaseValue) {
      // A record of base fields alone only sets them: senders write it, though the standard wants a value in each record.
      if (Object.keys(record).every((label) => baseLabels.has(label))) continue;
      return fail('senml-value');
    }
    const name = baseName + (typeof record.n === 'string' ? record.n : '');
    if (!namePattern.test(name)) return fail('senml-name');
    const timeS = baseTimeS + (isNumber(record.t) ? record.t : 0);
    records.push({
      name,
      unit: typeof record.u === 'string' ? record.u : baseUnit,
      // A missing value counts as zero beside a base value (section 4.5.4).
      value: isNumber(record.v) || (values === 0 && hasBaseValue) ? baseValue + (isNumber(record.v) ? record.v : 0) : null,
      at: Math.round(timeS < relativeBelowS ? arrivedAt + timeS * 1_000 : timeS * 1_000),
      hasOwnTime: timeS >= relativeBelowS,
      updateS: isNumber(record.ut) ? record.ut : null,
    });
  }
  return ok(records);
};

const checkFields = (record: Raw): SenmlFailure | null => {
  if (record.bver !== undefined && !(isNumber(record.bver) && Number.isInteger(record.bver) && record.bver > 0)) return 'senml-field';
  if (isNumber(record.bver) && record.bver > supportedVersion) return 'senml-version';
  for (const label of numericLabels) if (record[label] !== undefined && !isNumber(record[label])) return 'senml-field';
  for (const label of textLabels) if (record[label] !== undefined && typeof record[label] !== 'string') return 'senml-field';
  if (record.vb !== undefined && typeof record.vb !== 'boolean') return 'senml-field';
  // Section 4.4: an unknown label that ends with "_" must be understood, or the whole pack is not used.
  for (const label in record) if (label.endsWith('_')) return 'senml-must-understand';
  return null;
};
