import { requireAboveZero } from "../guards.ts";

/**
 * Gain from the arm swing: `gain = 100 (withArms - withoutArms) / withoutArms`.
 *
 * Both results are the same quantity by the same method, from jumps that differ
 * only in the use of the arms.
 *
 * @param withArms Result with a free arm swing, in the unit of the quantity; more than zero.
 * @param withoutArms Result with hands on the hips, in the same unit; more than zero.
 * @returns Gain, in %; positive when the arms help.
 * @throws {InputError} `not-a-number` if an argument is not finite.
 * @throws {InputError} `out-of-range` if a result is not positive.
 * @see Feltner et al. (1999); Lees et al. (2004).
 */
export function armSwingGain(withArms: number, withoutArms: number): number {
  requireAboveZero("arm-swing gain", "a result with arms", withArms);
  requireAboveZero("arm-swing gain", "a result without arms", withoutArms);
  return (100 * (withArms - withoutArms)) / withoutArms;
}
