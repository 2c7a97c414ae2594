import { InputError } from "../errors.ts";
import { requireFinite, requireLevel, requireZeroOrMore } from "../guards.ts";
import { tQuantile } from "./distributions.ts";

export const RATIO_METHODS = ["fieller", "log", "delta"] as const;
export type RatioMethod = (typeof RATIO_METHODS)[number];

/** How the two uncertainties go together. */
export interface RatioOptions {
  /** Correlation of the two errors, no unit; -1 to 1. @default 0 */
  readonly correlation?: number;
  /** Level of the limits, no unit. @default 0.95 */
  readonly level?: number;
  /** @default "fieller" */
  readonly method?: RatioMethod;
  /** Degrees of freedom of the uncertainties (k - 1 for a mean of k trials); absent: the normal quantile. */
  readonly degreesOfFreedom?: number;
}

/** A ratio with its standard uncertainty and limits. */
export interface RatioInterval {
  readonly ratio: number;
  /** Standard uncertainty by propagation (the delta method), no unit. */
  readonly u: number;
  readonly low: number;
  readonly high: number;
  readonly level: number;
  readonly method: RatioMethod;
}

/**
 * Limits of a ratio: `ratio = a / b`, by Fieller's theorem, the log-normal or the delta method.
 *
 * Delta: `ratio * sqrt((uA/a)^2 + (uB/b)^2 - 2 correlation uA uB / (a b))`. Fieller solves for
 * the ratios that the two values do not contradict, and keeps its level also where the
 * denominator is uncertain; it has finite limits only where b differs from zero by more
 * than its own interval. Errors are taken as normal.
 *
 * @param a Numerator, in any unit.
 * @param uA Standard uncertainty of a, in the unit of a; zero or more.
 * @param b Denominator, in any unit; not zero.
 * @param uB Standard uncertainty of b, in the unit of b; zero or more.
 * @param options Correlation, level, method and degrees of freedom, no unit.
 * @returns Ratio, uncertainty and limits, in the unit of a over that of b.
 * @throws {InputError} `not-a-number` if an argument is not finite.
 * @throws {InputError} `out-of-range` if b is zero, an uncertainty negative, or the log method meets a side not above zero.
 * @throws {InputError} `not-available` if Fieller's limits are not finite.
 * @throws {InputError} `unknown-name` if the method is not known.
 * @see Fieller (1954); JCGM 100 (2008), section 5.
 */
export function ratioInterval(a: number, uA: number, b: number, uB: number, options: RatioOptions = {}): RatioInterval {
  const { correlation = 0, level = 0.95, method = "fieller", degreesOfFreedom } = options;
  requireFinite("limits of a ratio", a, b, correlation);
  requireZeroOrMore("limits of a ratio", "an uncertainty", uA);
  requireZeroOrMore("limits of a ratio", "an uncertainty", uB);
  requireLevel("limits of a ratio", level);
  if (b === 0) throw new InputError("out-of-range", "limits of a ratio requires a denominator other than zero");
  if (Math.abs(correlation) > 1) throw new InputError("out-of-range", "limits of a ratio requires a correlation from -1 to 1");
  const ratio = a / b;
  const covariance = correlation * uA * uB;
  const u = Math.sqrt(Math.max(0, uA ** 2 - 2 * ratio * covariance + ratio ** 2 * uB ** 2)) / Math.abs(b);
  const quantile = tQuantile((1 + level) / 2, degreesOfFreedom);
  const limits = (low: number, high: number): RatioInterval => ({ ratio, u, low, high, level, method });
  switch (method) {
    case "delta":
      return limits(ratio - quantile * u, ratio + quantile * u);
    case "log": {
      if (a <= 0 || b <= 0) throw new InputError("out-of-range", "log limits of a ratio requires both sides above zero");
      const spread = Math.exp((quantile * u) / ratio);
      return limits(ratio / spread, ratio * spread);
    }
    case "fieller": {
      const [low, high] = fieller(a, uA, b, uB, covariance, quantile);
      return limits(low, high);
    }
    default:
      throw new InputError("unknown-name", `limits of a ratio requires one of the methods ${RATIO_METHODS.join(", ")}`);
  }
}

/** Roots of `(a - R b)^2 = q^2 (uA^2 - 2 R cov + R^2 uB^2)`. */
function fieller(a: number, uA: number, b: number, uB: number, covariance: number, quantile: number): [number, number] {
  const q2 = quantile ** 2;
  const second = b ** 2 - q2 * uB ** 2;
  const middle = a * b - q2 * covariance;
  const constant = a ** 2 - q2 * uA ** 2;
  if (second <= 0) {
    throw new InputError("not-available", "Fieller limits of a ratio requires a denominator clearly different from zero");
  }
  const root = Math.sqrt(Math.max(0, middle ** 2 - second * constant));
  return [(middle - root) / second, (middle + root) / second];
}
