import { InputError } from "../errors.ts";
import { requireAllFinite, requireLevel } from "../guards.ts";
import { tQuantile } from "./distributions.ts";
import { mean } from "./moments.ts";

/** Least-squares line with limits. */
export interface LinearRegression {
  readonly intercept: number;
  readonly slope: number;
  /** Standard errors of intercept and slope. */
  readonly interceptError: number;
  readonly slopeError: number;
  /** Correlation of the two estimates. */
  readonly correlation: number;
  readonly interceptLimits: readonly [number, number];
  readonly slopeLimits: readonly [number, number];
  /** Share of the variance explained. */
  readonly rSquared: number;
  /** Standard deviation of the residuals, n - 2. */
  readonly residualSd: number;
  readonly degreesOfFreedom: number;
  readonly level: number;
}

/**
 * Least-squares line `y = intercept + slope x` with limits of Student's t (n - 2).
 *
 * Assumes x without error and residuals of equal, normal scatter.
 *
 * @param x Abscissas, in any unit; at least three, not all equal.
 * @param y Ordinates, in any unit; as many.
 * @param level Level of the limits, no unit; between 0 and 1.
 * @returns Line in the units of y and y over x, with errors, limits and fit.
 * @throws {InputError} `not-a-number` if a value is not finite.
 * @throws {InputError} `wrong-shape` if the lengths differ.
 * @throws {InputError} `not-available` with fewer than three points or equal abscissas.
 * @see any textbook of statistics; equals Excel LINEST.
 */
export function linearRegression(x: readonly number[], y: readonly number[], level: number = 0.95): LinearRegression {
  if (x.length !== y.length) throw new InputError("wrong-shape", "regression line requires as many ordinates as abscissas");
  requireAllFinite("regression line", x, y);
  requireLevel("regression line", level);
  const n = x.length;
  if (n < 3) throw new InputError("not-available", "regression line requires at least three points");
  const xMean = mean(x);
  const yMean = mean(y);
  let sxx = 0;
  let sxy = 0;
  let syy = 0;
  for (let i = 0; i < n; i++) {
    sxx += (x[i] - xMean) ** 2;
    sxy += (x[i] - xMean) * (y[i] - yMean);
    syy += (y[i] - yMean) ** 2;
  }
  if (sxx === 0) throw new InputError("not-available", "regression line requires abscissas that are not all equal");
  const slope = sxy / sxx;
  const intercept = yMean - slope * xMean;
  let residual = 0;
  for (let i = 0; i < n; i++) residual += (y[i] - intercept - slope * x[i]) ** 2;
  const residualSd = Math.sqrt(residual / (n - 2));
  const slopeError = residualSd / Math.sqrt(sxx);
  const interceptError = residualSd * Math.sqrt(1 / n + xMean ** 2 / sxx);
  const quantile = tQuantile((1 + level) / 2, n - 2);
  return {
    intercept,
    slope,
    interceptError,
    slopeError,
    correlation: -xMean / Math.sqrt(sxx / n + xMean ** 2),
    interceptLimits: [intercept - quantile * interceptError, intercept + quantile * interceptError],
    slopeLimits: [slope - quantile * slopeError, slope + quantile * slopeError],
    rSquared: syy === 0 ? 1 : 1 - residual / syy,
    residualSd,
    degreesOfFreedom: n - 2,
    level,
  };
}
