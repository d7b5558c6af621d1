/**
 * Regularised incomplete beta function I_x(a, b).
 *
 * I_x(a, b) = x^a (1 - x)^b / (a B(a, b)) · continued fraction; 1 - I_{1-x}(b, a) where that converges faster.
 *
 * Source: DLMF 8.17(v), the continued fraction 8.17.22, evaluated by the method of Lentz. For 0 ≤ x ≤ 1 and a, b above 0.
 * Example: I_0.5(2, 3) = 0.6875.
 */
export const incompleteBeta = (x: number, a: number, b: number): number => {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  const front = Math.exp(a * Math.log(x) + b * Math.log1p(-x) + logGamma(a + b) - logGamma(a) - logGamma(b));
  return x < (a + 1) / (a + b + 2) ? (front * continuedFraction(x, a, b)) / a : 1 - (front * continuedFraction(1 - x, b, a)) / b;
};

const continuedFraction = (x: number, a: number, b: number): number => {
  const tiny = 1e-300;
  const safe = (value: number): number => (Math.abs(value) < tiny ? tiny : value);
  let c = 1;
  let d = 1 / safe(1 - ((a + b) * x) / (a + 1));
  let fraction = d;
  for (let m = 1; m <= 10_000; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / safe(1 + even * d);
    c = safe(1 + even / c);
    fraction *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / safe(1 + odd * d);
    c = safe(1 + odd / c);
    fraction *= d * c;
    if (Math.abs(d * c - 1) < 1e-15) break;
  }
  return fraction;
};

/**
 * Natural logarithm of the gamma function for a positive argument.
 *
 * Stirling's series, DLMF 5.11.1, after lifting the argument above 10 by Γ(x + 1) = x Γ(x); then five terms are good to 1e-15.
 * Example: logGamma(0.5) = ln √π = 0.572365.
 */
export const logGamma = (argument: number): number => {
  let x = argument;
  let lift = 0;
  while (x < 10) {
    lift -= Math.log(x);
    x += 1;
  }
  const s = 1 / (x * x);
  const series = (1 / 12 - s * (1 / 360 - s * (1 / 1260 - s * (1 / 1680 - s * (1 / 1188 - (s * 691) / 360360))))) / x;
  return lift + (x - 0.5) * Math.log(x) - x + 0.5 * Math.log(2 * Math.PI) + series;
};
