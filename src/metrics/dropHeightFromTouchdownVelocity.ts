import { STANDARD_GRAVITY } from "../constants.ts";
import { InputError } from "../errors.ts";
import { requireAboveZero, requireFinite } from "../guards.ts";

/**
 * Drop height that belongs to a touchdown velocity: `dropHeight = touchdownVelocity^2 / (2 gravity)`.
 *
 * The height of a fall from rest that ends with this velocity; not the height of
 * the box. Defined by the velocity alone, whatever the posture at contact.
 *
 * @param touchdownVelocity Velocity at touchdown, in m/s; downward is negative, so zero or less.
 * @param gravity Local gravity, in m/s^2; more than zero.
 * @returns Height fallen, in m.
 * @throws {InputError} `not-a-number` if an argument is not finite.
 * @throws {InputError} `out-of-range` if touchdownVelocity is upward or gravity is not positive.
 * @see McMahon et al. (2021).
 */
export function dropHeightFromTouchdownVelocity(touchdownVelocity: number, gravity: number = STANDARD_GRAVITY): number {
  requireFinite("drop height", touchdownVelocity);
  requireAboveZero("drop height", "gravity", gravity);
  if (touchdownVelocity > 0) {
    throw new InputError("out-of-range", "drop height requires a touchdown velocity that is downward (zero or negative)");
  }
  return touchdownVelocity ** 2 / (2 * gravity);
}
