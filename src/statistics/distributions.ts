import { InputError } from "../errors.ts";

/**
 * The distributions that intervals need: exact quantiles everywhere, no rounded 1.96 of our own.
 *
 * All six come from two functions, the regularised incomplete beta (t, F) and gamma (normal, chi-squared), by series
 * and continued fractions; quantiles invert them by Newton steps on the logarithm of the smaller tail, so that far
 * tails stay exact. A general library would be a third of the functions bundle and looks for `eval` when it loads,
 * which the pages' policy forbids; the tests compare with it and with SciPy.
 *
 * @see Didonato & Morris (1992) ACM TOMS 18:360, algorithm 708 (logarithm of the beta function);
 *   Lentz (1976) Appl. Opt. 15:668 (continued fractions).
 */

/** Quantile of the standard normal distribution. */
export function normalQuantile(probability: number): number {
  requireProbability("normal", probability);
  const tail = Math.min(probability, 1 - probability);
  // The square of a normal value is chi-squared with one degree of freedom.
  const size = Math.sqrt(2 * inverseUpperGamma(2 * tail, 0.5));
  return probability < 0.5 ? -size : size;
}

/** Probability of a standard normal value up to `x`. */
export function normalCdf(x: number): number {
  if (Number.isNaN(x)) throw undefinedFor("normal");
  const [lower, upper] = gammaTails(0.5, (x * x) / 2);
  return x < 0 ? upper / 2 : 0.5 + lower / 2;
}

/** Quantile of Student's t; without degrees of freedom (or with infinitely many) the normal one. */
export function tQuantile(probability: number, degreesOfFreedom: number = Infinity): number {
  if (degreesOfFreedom === Infinity) return normalQuantile(probability);
  requireProbability("t", probability);
  requireFreedom("t", degreesOfFreedom);
  const tail = Math.min(probability, 1 - probability);
  const [u, v] = inverseBeta(2 * tail, degreesOfFreedom / 2, 0.5);
  const size = Math.sqrt((degreesOfFreedom * v) / u);
  return probability < 0.5 ? -size : size;
}

/** Probability of a value of Student's t up to `x`; without degrees of freedom the normal one. */
export function tCdf(x: number, degreesOfFreedom: number = Infinity): number {
  if (degreesOfFreedom === Infinity) return normalCdf(x);
  if (Number.isNaN(x)) throw undefinedFor("t");
  requireFreedom("t", degreesOfFreedom);
  const square = x * x;
  const [tails] = betaTails(degreesOfFreedom / (degreesOfFreedom + square), square / (degreesOfFreedom + square), degreesOfFreedom / 2, 0.5);
  return x < 0 ? tails / 2 : 1 - tails / 2;
}

/** Quantile of F. */
export function fQuantile(probability: number, numerator: number, denominator: number): number {
  requireProbability("F", probability);
  requireFreedom("F", numerator);
  requireFreedom("F", denominator);
  const [u, v] = inverseBeta(probability, numerator / 2, denominator / 2);
  return (denominator * u) / (numerator * v);
}

/** Quantile of chi-squared. */
export function chiSquareQuantile(probability: number, degreesOfFreedom: number): number {
  requireProbability("chi-squared", probability);
  requireFreedom("chi-squared", degreesOfFreedom);
  const shape = degreesOfFreedom / 2;
  return 2 * (probability < 0.5 ? inverseLowerGamma(probability, shape) : inverseUpperGamma(1 - probability, shape));
}

function requireProbability(name: string, probability: number): void {
  if (!(probability >= 0 && probability <= 1)) throw undefinedFor(name);
}

function requireFreedom(name: string, degreesOfFreedom: number): void {
  if (!(degreesOfFreedom > 0 && degreesOfFreedom < Infinity)) throw undefinedFor(name);
}

function undefinedFor(name: string): InputError {
  return new InputError("out-of-range", `${name} distribution requires a probability between 0 and 1 and positive degrees of freedom`);
}

const HALF_LOG_TWO_PI = 0.5 * Math.log(2 * Math.PI);
/** From here on the asymptotic series of `stirling` is exact to the last digit. */
const LARGE = 10;
const SMALLEST = 1e-300;

/** What the logarithm of the gamma function adds to (x - 1/2) ln x - x + ln(2 pi)/2, for x of ten or more. */
function stirling(x: number): number {
  const s = 1 / (x * x);
  return (1 / 12 - s * (1 / 360 - s * (1 / 1260 - s * (1 / 1680 - s * (1 / 1188 - s * (691 / 360360)))))) / x;
}

/** Logarithm of the beta function, without the cancellation of three gamma functions. */
function logBeta(a: number, b: number): number {
  let steps = 0;
  // B(a, b) = B(a + 1, b) (a + b) / a.
  while (a < LARGE) {
    steps += Math.log1p(b / a);
    a++;
  }
  while (b < LARGE) {
    steps += Math.log1p(a / b);
    b++;
  }
  const [less, more] = a < b ? [a, b] : [b, a];
  const ratio = less / more;
  const series = stirling(less) + stirling(more) - stirling(less + more);
  return HALF_LOG_TWO_PI - 0.5 * Math.log(more) + series + (less - 0.5) * Math.log(ratio / (1 + ratio)) - more * Math.log1p(ratio) + steps;
}

/** x^a e^-x / Gamma(a) as a logarithm; exact near x = a too. */
function logGammaDensity(a: number, x: number): number {
  if (a >= LARGE) {
    const off = (x - a) / a;
    const excess = Math.abs(off) < 0.5 ? off - Math.log1p(off) : off - Math.log(x / a);
    return 0.5 * Math.log(a) - HALF_LOG_TWO_PI - stirling(a) - a * excess;
  }
  // Gamma(a) = Gamma(a + n) / (a (a + 1) ... ).
  let product = 1;
  let large = a;
  while (large < LARGE) product *= large++;
  const logGamma = (large - 0.5) * Math.log(large) - large + HALF_LOG_TWO_PI + stirling(large) - Math.log(product);
  return a * Math.log(x) - x - logGamma;
}

/** Lower and upper regularised incomplete gamma function, P(a, x) and Q(a, x). */
function gammaTails(a: number, x: number): readonly [lower: number, upper: number] {
  if (x <= 0) return [0, 1];
  if (x === Infinity) return [1, 0];
  const density = Math.exp(logGammaDensity(a, x));
  if (x < a + 1) {
    let term = 1 / a;
    let sum = term;
    for (let n = 1; term > sum * 1e-17 && n < 1e6; n++) {
      term *= x / (a + n);
      sum += term;
    }
    const lower = density * sum;
    return [lower, 1 - lower];
  }
  const upper = density * continuedFraction(x + 1 - a, (n) => n * (a - n), (n) => x + 1 - a + 2 * n);
  return [1 - upper, upper];
}

/** Regularised incomplete beta function I_x(a, b) and its complement, for y = 1 - x. */
function betaTails(x: number, y: number, a: number, b: number): readonly [lower: number, upper: number] {
  if (x <= 0) return [0, 1];
  if (y <= 0) return [1, 0];
  if (x > (a + 1) / (a + b + 2)) {
    const [upper, lower] = betaTails(y, x, b, a);
    return [lower, upper];
  }
  const front = Math.exp(a * logOf(x, y) + b * logOf(y, x) - logBeta(a, b)) / a;
  const fraction = continuedFraction(
    1,
    (n) => {
      const m = n >> 1;
      return n % 2 === 0 ? (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m)) : (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    },
    () => 1,
  );
  const lower = front * fraction;
  return [lower, 1 - lower];
}

/** Logarithm of x from x or from its complement, whichever keeps more digits. */
function logOf(x: number, complement: number): number {
  return x < 0.5 ? Math.log(x) : Math.log1p(-complement);
}

/** 1 / (first + p(1) / (q(1) + p(2) / (q(2) + …))), by Lentz's method. */
function continuedFraction(first: number, p: (n: number) => number, q: (n: number) => number): number {
  let value = first === 0 ? SMALLEST : first;
  let c = value;
  let d = 0;
  for (let n = 1; n < 1e5; n++) {
    const numerator = p(n);
    const denominator = q(n);
    d = denominator + numerator * d;
    d = 1 / (d === 0 ? SMALLEST : d);
    c = denominator + numerator / c;
    if (c === 0) c = SMALLEST;
    const factor = c * d;
    value *= factor;
    if (Math.abs(factor - 1) < 1e-16) break;
  }
  return 1 / value;
}

/** The x at which I_x(a, b) is `probability`, with its complement; the smaller of the two is found. */
function inverseBeta(probability: number, a: number, b: number): readonly [x: number, complement: number] {
  if (probability <= 0) return [0, 1];
  if (probability >= 1) return [1, 0];
  if (betaTails(0.5, 0.5, a, b)[0] >= probability) {
    const x = inverseBetaBelowHalf(probability, 1 - probability, a, b);
    return [x, 1 - x];
  }
  const complement = inverseBetaBelowHalf(1 - probability, probability, b, a);
  return [1 - complement, complement];
}

/** The same from both tails, of which the smaller counts, where x is known to be at most one half. */
function inverseBetaBelowHalf(lowerTail: number, upperTail: number, a: number, b: number): number {
  const scale = logBeta(a, b);
  return Math.exp(
    rootOf(Math.log(Math.min(0.5, a / (a + b))), (s) => {
      const x = Math.exp(s);
      const [lower, upper] = betaTails(x, 1 - x, a, b);
      const density = Math.exp(a * s + (b - 1) * Math.log1p(-x) - scale);
      return lowerTail < upperTail ? [Math.log(lower / lowerTail), density / lower] : [Math.log(upperTail / upper), density / upper];
    }),
  );
}

/** The x at which P(a, x) is `probability`. */
function inverseLowerGamma(probability: number, a: number): number {
  if (probability <= 0) return 0;
  return Math.exp(
    rootOf(Math.log(a), (s) => {
      const x = Math.exp(s);
      const [lower] = gammaTails(a, x);
      return [Math.log(lower / probability), Math.exp(logGammaDensity(a, x)) / lower];
    }),
  );
}

/** The x at which Q(a, x) is `probability`. */
function inverseUpperGamma(probability: number, a: number): number {
  if (probability <= 0) return Infinity;
  if (probability >= 1) return 0;
  return Math.exp(
    rootOf(Math.log(a + 1), (s) => {
      const x = Math.exp(s);
      const [, upper] = gammaTails(a, x);
      return [Math.log(probability / upper), Math.exp(logGammaDensity(a, x)) / upper];
    }),
  );
}

/**
 * Root of a rising function by Newton steps, kept inside the interval that is known to hold it.
 *
 * @param start Where to begin.
 * @param at Value and slope.
 */
function rootOf(start: number, at: (s: number) => readonly [value: number, slope: number]): number {
  let low = -Infinity;
  let high = Infinity;
  let s = start;
  for (let i = 0; i < 200; i++) {
    const [value, slope] = at(s);
    if (value === 0) return s;
    if (value > 0) high = s;
    else low = s;
    let next = s - value / slope;
    const outside = !(next > low && next < high);
    if (outside) next = low === -Infinity ? high - 1 : high === Infinity ? low + 1 : (low + high) / 2;
    if (Math.abs(next - s) <= 4e-16 * Math.max(1, Math.abs(s))) return next;
    s = next;
  }
  return s;
}
