import { InputError } from "../errors.ts";
import { requireFinite } from "../guards.ts";

/** WGS 84: normal gravity at the equator, m/s^2. */
const EQUATOR_GRAVITY = 9.7803253359;
/** WGS 84: Somigliana's constant, no unit. */
const SOMIGLIANA = 0.00193185265241;
/** WGS 84: first eccentricity squared, no unit. */
const ECCENTRICITY_SQUARED = 0.00669437999013;
/** WGS 84: semi-major axis, m. */
const SEMI_MAJOR_AXIS = 6378137;
/** WGS 84: flattening, no unit. */
const FLATTENING = 1 / 298.257223563;
/** WGS 84: ratio of centrifugal to gravitational acceleration at the equator, no unit. */
const CENTRIFUGAL_RATIO = 0.00344978650684;

/**
 * Local normal gravity: Somigliana's formula on the ellipsoid of WGS 84, with the
 * second-order height correction `1 - 2 (1 + f + k - 2 f sin^2) H/a + 3 H^2/a^2`.
 *
 * Gravity of the smooth ellipsoid; local rock changes it by less than 0.001 m/s^2
 * in most places (from memory). Use one gravity for the whole history of a person.
 *
 * @param latitude Geodetic latitude, in degrees; -90 to 90.
 * @param elevation Height above the ellipsoid (near enough, above sea level), in m; -500 to 9000.
 * @returns Normal gravity, in m/s^2.
 * @throws {InputError} `not-a-number` if an argument is not finite.
 * @throws {InputError} `out-of-range` if latitude or elevation lies outside the limits above.
 * @see NGA.STND.0036 (WGS 84); Moritz (2000) for the closed form. Constants of the height term from memory.
 */
export function normalGravity(latitude: number, elevation: number = 0): number {
  requireFinite("local gravity", latitude, elevation);
  if (Math.abs(latitude) > 90) {
    throw new InputError("out-of-range", "local gravity requires a latitude from -90 to 90 degrees");
  }
  if (elevation < -500 || elevation > 9000) {
    throw new InputError("out-of-range", "local gravity requires an elevation from -500 to 9000 m");
  }
  const sineSquared = Math.sin((latitude * Math.PI) / 180) ** 2;
  const onEllipsoid =
    (EQUATOR_GRAVITY * (1 + SOMIGLIANA * sineSquared)) / Math.sqrt(1 - ECCENTRICITY_SQUARED * sineSquared);
  const ratio = elevation / SEMI_MAJOR_AXIS;
  return (
    onEllipsoid * (1 - 2 * (1 + FLATTENING + CENTRIFUGAL_RATIO - 2 * FLATTENING * sineSquared) * ratio + 3 * ratio ** 2)
  );
}
