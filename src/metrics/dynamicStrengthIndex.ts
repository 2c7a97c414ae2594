import { InputError } from "../errors.ts";
import { requireAboveZero } from "../guards.ts";

/**
 * Dynamic strength index: `index = ballisticPeak / isometricPeak`, both gross or both net of body weight.
 *
 * With `bodyWeight` both forces are made net of it; without, both are used as they
 * are. Gross and net never mix: the two give different numbers for one person.
 * The jump's peak lies between onset and take-off, never in the landing.
 *
 * @param ballisticPeak Gross peak force of the countermovement or squat jump, in N; more than zero.
 * @param isometricPeak Gross peak force of the isometric mid-thigh pull, in N; more than zero.
 * @param bodyWeight Body weight for the net form, in N; absent for the gross form.
 * @returns Index, no unit.
 * @throws {InputError} `not-a-number` if an argument is not finite.
 * @throws {InputError} `out-of-range` if a force is not positive, or not above body weight in the net form.
 * @see Thomas et al. (2017); Comfort et al. (2018).
 */
export function dynamicStrengthIndex(ballisticPeak: number, isometricPeak: number, bodyWeight?: number): number {
  requireAboveZero("dynamic strength index", "a peak force of the jump", ballisticPeak);
  requireAboveZero("dynamic strength index", "a peak force of the pull", isometricPeak);
  if (bodyWeight === undefined) return ballisticPeak / isometricPeak;
  requireAboveZero("dynamic strength index", "a body weight", bodyWeight);
  if (ballisticPeak <= bodyWeight || isometricPeak <= bodyWeight) {
    throw new InputError("out-of-range", "net dynamic strength index requires peak forces above body weight");
  }
  return (ballisticPeak - bodyWeight) / (isometricPeak - bodyWeight);
}
