import type { Config } from './config.ts';
import type { Clock } from './clock.ts';
import { startModbus } from './sources/modbus/modbus.ts';
import { startSerial } from './sources/serial/serial.ts';
import type { Sink, Source } from './sources/source.ts';

/** Cables and buses, as the settings name them. None of them can keep the collector from starting. */
export const startSources = ({ serial, modbus }: Config, rest: { readonly sink: Sink; readonly clock: Clock; readonly random: () => number }): readonly Source[] => [...serial.map((spec) => startSerial({ spec, ...rest })), ...modbus.map((bus) => startModbus({ bus, ...rest }))];
