/** Everything between two numbers: what a recipe can mean. */
export interface Span {
  readonly low: number;
  readonly high: number;
}

export const exactly = (value: number): Span => ({ low: value, high: value });

export const hullOf = (values: readonly number[]): Span => ({ low: Math.min(...values), high: Math.max(...values) });

export const contains = ({ low, high }: Span, value: number): boolean => value >= low && value <= high;

/** As a person reads it: the ends never nearer together than they are, one number where both are the same. */
export const spanText = ({ low, high }: Span, digits: number, unit: string): string => {
  const scale = 10 ** digits;
  const [from, to] = [(Math.floor(low * scale + 1e-9) / scale).toFixed(digits), (Math.ceil(high * scale - 1e-9) / scale).toFixed(digits)];
  return from === to ? `${from} ${unit}` : `${from} to ${to} ${unit}`;
};
