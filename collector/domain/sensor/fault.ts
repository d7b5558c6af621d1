/** A sensor that answers, but not with a temperature. Names are those of a reading's quality where a reading can have it. */
export const sensorFaults = ['power-on', 'disconnected', 'blank-scratchpad', 'checksum', 'out-of-range', 'open', 'short'] as const;
export type SensorFaultKind = (typeof sensorFaults)[number];

export interface SensorFault {
  readonly code: 'sensor-fault';
  readonly fault: SensorFaultKind;
  readonly message: string;
}

const messages: Readonly<Record<SensorFaultKind, string>> = {
  'power-on': 'exactly 85 °C is what the sensor holds before its first conversion: supply or timing',
  disconnected: 'no answer on the line: lead or plug',
  'blank-scratchpad': 'a frame of zeros passes its check but is no reading: data line held low',
  checksum: 'the frame does not match its check byte: noise or a poor joint',
  'out-of-range': 'the value lies outside what the sensor can measure',
  open: 'an open circuit: broken lead or plug',
  short: 'a short circuit: water in the joint or crossed leads',
};

export const sensorFault = (fault: SensorFaultKind): { readonly ok: false; readonly error: SensorFault } => ({
  ok: false,
  error: { code: 'sensor-fault', fault, message: messages[fault] },
});
