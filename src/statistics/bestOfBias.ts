import { requireCount } from "../guards.ts";
import { normalCdf } from "./distributions.ts";

/**
 * Expected lead of the best of k trials over their mean: `bias = integral of x d(normalCdf(x)^k)`.
 *
 * In within-person standard deviations, for independent normal trials. The bias grows
 * with k, so results of the best of different k must not be compared.
 *
 * @param count Number of trials k, no unit; one or more.
 * @returns Expected maximum of k standard normal values, in standard deviations.
 * @throws {InputError} `out-of-range` if count is not a whole number of at least one.
 * @see Claudino et al. (2017) on best or mean.
 */
export function bestOfBias(count: number): number {
  requireCount("bias of the best", "the number of trials", count, 1);
  // E(max) = integral over x > 0 of (1 - cdf^k) minus over x < 0 of cdf^k; folded to x > 0, Simpson's rule.
  const end = 10;
  const steps = 2000;
  const width = end / steps;
  let sum = 0;
  for (let i = 0; i <= steps; i++) {
    const x = i * width;
    const weight = i === 0 || i === steps ? 1 : i % 2 === 1 ? 4 : 2;
    sum += weight * (1 - normalCdf(x) ** count - normalCdf(-x) ** count);
  }
  return (sum * width) / 3;
}
