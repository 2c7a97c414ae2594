/**
 * Standard uncertainty of a quantity known to lie within plus or minus `halfWidth`, all values alike:
 * `u = halfWidth / sqrt(3)`.
 *
 * @param halfWidth Half of the width, in the unit of the quantity.
 * @returns Standard uncertainty, in the unit of the quantity.
 * @see JCGM 100 (2008), 4.3.7.
 */
export function rectangular(halfWidth: number): number {
  return halfWidth / Math.sqrt(3);
}
