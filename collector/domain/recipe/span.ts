/** Everything between two numbers: what a recipe can mean. */
export interface Span {
  readonly low: number;
  readonly high: number;
}

export const exactly = (value: number): Span => ({ low: value, high: value });

export const hullOf = (values: readonly number[]): Span => ({ low: Math.min(...values), high: Math.max(...values) });

export const contains = ({ low, high }: Span, value: number): boolean => value >= low && value <= high;

/** As a person reads it: one number where both ends round to the same. */
export const spanText = ({ low, high }: Span, digits: number, unit: string): string => {
  const [from, to] = [low.toFixed(digits), high.toFixed(digits)];
  return from === to ? `${from} ${unit}` : `${from} to ${to} ${unit}`;
};
