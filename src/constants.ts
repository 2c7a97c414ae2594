/** Standard acceleration of free fall, m/s^2 (3rd CGPM 1901, exact). */
export const STANDARD_GRAVITY = 9.80665;
