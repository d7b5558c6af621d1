/** What a probe's own readings say about the probe. `state` is the shape it is shown with: grey says nothing can be known of the brine. */
export interface ProbeSign {
  readonly kind: ProbeSignKind;
  readonly channel: string;
  /** The figure it was judged by, in the unit of the channel (share, hours or days where the kind says so); null where there is none. */
  readonly value: number | null;
}

export const probeSignKinds = [
  'silent', 'all-silent', 'power-on', 'disconnected', 'blank-scratchpad', 'out-of-range', 'stuck', 'follows-air', 'jumps', 'apart', 'battery-low', 'signal-weak', 'ph-seven',
  'dry', 'never-calibrated', 'calibration-old', 'electrode-check', 'electrode-replace', 'ice-point-off', 'ice-point-reject',
] as const;
export type ProbeSignKind = (typeof probeSignKinds)[number];

interface SignWords {
  readonly state: 'unknown' | 'caution';
  readonly title: (value: number | null) => string;
  /** What it may be, and what to do. */
  readonly hint: string;
}

const words = (state: SignWords['state'], title: string | ((value: number) => string), hint: string): SignWords => ({ state, title: (value) => (typeof title === 'string' ? title : title(value ?? 0)), hint });
const one = (value: number): string => value.toFixed(1).replace('-', '−');

/**
 * Each sign in words.
 * Source of the thresholds and of the likely causes: signatures seen by people who kept such probes, where the check names none, an assumption.
 */
export const probeSignWords: Readonly<Record<ProbeSignKind, SignWords>> = {
  silent: words('unknown', 'Silent; the other probes speak', 'It is this probe or its lead. Look at its power, its plug, and at the cable where the lid pinches it.'),
  'all-silent': words('unknown', 'Silent, and so are all the others', 'Not the probe: look at power and network of the shed first, then at the radio or the cable they share.'),
  'power-on': words('unknown', 'Says 85 °C: it has just been switched on', 'The sensor loses its supply. Three times a day or more: look at supply, plug and pull-up resistor. The value itself is left out.'),
  disconnected: words('unknown', 'The sensor does not answer', 'A lead is open or shorted. Look at plug and lead; wires break where they are pinched.'),
  'blank-scratchpad': words('unknown', 'Says exactly zero, and nothing else', 'The data line is held low: such an answer passes its own check. Look for a short in plug or lead.'),
  'out-of-range': words('unknown', 'Says what cannot be', 'The value is kept and not used. Look at sensor, lead and the settings of whatever sends it.'),
  stuck: words('caution', (value) => `Has not moved for ${value.toFixed(0)} h while the air did`, 'A wet sensor reads one fixed temperature, and so does a gateway that hangs. Warm the tip in the hand: if it does not follow, take it out of use.'),
  'follows-air': words('caution', 'Follows the air, as no brine can', 'Is the probe in the brine, and is the fruit covered? Go and look: fruit above the brine spoils.'),
  jumps: words('caution', (value) => `Jumped up and down ${value.toFixed(0)} times in a day`, 'Brine cannot move by a degree between two readings, both ways. Suspect a damp joint or a bad contact.'),
  apart: words('caution', (value) => `Reads ${one(Math.abs(value))} ° ${value > 0 ? 'above' : 'below'} the other probe of this drum`, 'Stir, and wait half an hour. If they stay apart, hang both in one stirred bucket, then in ice water: that says which one is wrong.'),
  'battery-low': words('caution', 'The battery is low', 'Change it soon. A starved sensor may read several degrees high before it falls silent: suspect the battery before the brine.'),
  'signal-weak': words('caution', (value) => `The radio is weak, ${value.toFixed(0)} dBm`, 'Readings may be lost. A steel drum and brine swallow radio: hang the antenna higher, or nearer.'),
  'ph-seven': words('caution', 'Says pH 7, whatever happens', 'First look whether the glass is broken: broken glass is a foreign-body matter for the whole drum. Then suspect a shorted cable. Measure a cup by hand.'),
  dry: words('caution', 'Conducts almost nothing', 'The cell is in air, or holds a bubble. Tap it under the brine, and look at the level.'),
  'never-calibrated': words('unknown', 'The electrode was never calibrated here', 'A pH nobody checked is unknown. Calibrate it now; the other readings of this probe are good without.'),
  'calibration-old': words('caution', (value) => `Calibrated ${value.toFixed(0)} days ago`, 'Weekly is usual, and on the day of any release; a new electrode again on its second day.'),
  'electrode-check': words('caution', (value) => `Slope ${value.toFixed(0)} %: between good and gone`, 'Clean it: warm mild detergent for an oil film, a pepsin soak for protein, warm dilute KCl for a blocked junction. Then storage solution, then calibrate again.'),
  'electrode-replace': words('caution', (value) => `Slope ${value.toFixed(0)} %: outside what an electrode may do`, 'Clean it and take fresh buffers. If it stays so, replace the electrode, and do not believe its pH until then.'),
  'ice-point-off': words('caution', (value) => `${one(value)} °C off in ice`, 'Cheap or damp. Half a degree is usual; keep an eye on it and check it again next month.'),
  'ice-point-reject': words('caution', (value) => `${one(value)} °C off in ice`, 'More than a degree is no honest sensor. Replace it.'),
};
