/**
 * The numbers by which instruments and records are checked, each a setting of the site. They are guide values, no approval.
 *
 * Sources: an electrode slope of 92 to 102 % and a check buffer within 0.05 pH are from memory of laboratory practice; ± 1 °C (± 2 °F) is
 * what food rules ask of a thermometer (Washington retail food rules, WAC 246-215, among others); the rest are assumptions or common
 * practice, no source, as said beside each.
 */
export const checkDefaults = {
  slopeLowPercent: { value: 92, low: 80, high: 100, unit: '%', words: 'least slope of a pH electrode', source: 'laboratory practice, from memory' },
  slopeHighPercent: { value: 102, low: 100, high: 110, unit: '%', words: 'greatest slope of a pH electrode', source: 'laboratory practice, from memory' },
  bufferWithinPh: { value: 0.05, low: 0.01, high: 0.2, unit: 'pH', words: 'how near a check buffer must read', source: 'laboratory practice, from memory' },
  icePointWithinC: { value: 1, low: 0.1, high: 2, unit: '°C', words: 'how near a thermometer must read in melting ice', source: 'WAC 246-215 and other food rules: ± 1 °C' },
  icePointDays: { value: 31, low: 1, high: 366, unit: 'days', words: 'an ice point holds for', source: 'assumption: monthly' },
  probePhDays: { value: 7, low: 1, high: 60, unit: 'days', words: 'a calibration of a pH probe holds for', source: 'common practice, no source: weekly' },
  bufferOpenDays: { value: 90, low: 7, high: 730, unit: 'days', words: 'a buffer is used after opening for', source: 'assumption' },
  jarEvidenceDays: { value: 90, low: 7, high: 730, unit: 'days', words: 'a pH of packed jars is recent for', source: 'assumption' },
  deviationDays: { value: 7, low: 1, high: 90, unit: 'days', words: 'a deviation is closed within', source: 'assumption' },
  reviewDays: { value: 7, low: 1, high: 90, unit: 'days', words: 'entries are reviewed within', source: 'a public template; 21 CFR 117.165 asks 7 working days (from memory)' },
  actLateDays: { value: 1, low: 0.25, high: 14, unit: 'days', words: 'an act is late after', source: 'assumption' },
  gapLookHours: { value: 6, low: 1, high: 72, unit: 'h', words: 'a gap in the readings is worth a look after', source: 'assumption' },
  gapFixHours: { value: 24, low: 1, high: 168, unit: 'h', words: 'a gap in the readings must be explained after', source: 'assumption' },
  lateSharePercent: { value: 10, low: 0, high: 100, unit: '%', words: 'share of entries written late', source: 'assumption' },
  massWithinPercent: { value: 5, low: 1, high: 50, unit: '%', words: 'share of the fruit unaccounted for', source: 'assumption' },
} as const;

export type CheckSetting = keyof typeof checkDefaults;
export type CheckSettings = { readonly [Name in CheckSetting]: number };
export const checkSettingNames = Object.keys(checkDefaults) as readonly CheckSetting[];

/** The settings in force: what the site changed, else the defaults. */
export const checkSettingsWith = (changes: Partial<CheckSettings> = {}): CheckSettings =>
  Object.fromEntries(checkSettingNames.map((name) => [name, changes[name] ?? checkDefaults[name].value])) as CheckSettings;
