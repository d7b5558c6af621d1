import type { Shed } from '../journal/shed.ts';
import type { EpochMs } from '../units/time.ts';
import { checkSettingsWith } from './check-settings.ts';
import type { InstrumentBook } from './evidence.ts';

/** What a shed knows of its instruments at a time: their checks, what was decided after failed ones, and the rules of the site. */
export const instrumentBookOf = ({ calibrations, doubtDecisions, checkSettings }: Pick<Shed, 'calibrations' | 'doubtDecisions' | 'checkSettings'>, zone: string, now: EpochMs): InstrumentBook & { readonly settings: ReturnType<typeof checkSettingsWith> } => ({
  calibrations, decisions: doubtDecisions, settings: checkSettingsWith(checkSettings), zone, now,
});
