import { InputError } from "../errors.ts";
import { STANDARD_GRAVITY } from "../constants.ts";

/** Units a force column may be written in. */
export const FORCE_UNITS = ["N", "kN", "kgf", "lbf"] as const;
export type ForceUnit = (typeof FORCE_UNITS)[number];

/**
 * Newtons in one unit of force. kgf: standard gravity, exact; lbf: 0.45359237 kg times standard
 * gravity, exact (NIST SP 811, appendix B.8).
 */
export const NEWTONS_PER: Readonly<Record<ForceUnit, number>> = {
  N: 1,
  kN: 1000,
  kgf: STANDARD_GRAVITY,
  lbf: 0.45359237 * STANDARD_GRAVITY,
};

/** Above this a number is no force on a plate but a fault of the file, N. */
export const LARGEST_FORCE = 1e7;

const SPELLINGS: Readonly<Record<string, ForceUnit>> = {
  n: "N",
  newton: "N",
  newtons: "N",
  kn: "kN",
  kilonewton: "kN",
  kilonewtons: "kN",
  kgf: "kgf",
  kg: "kgf",
  kp: "kgf",
  kilopond: "kgf",
  lbf: "lbf",
  lb: "lbf",
  lbs: "lbf",
  pounds: "lbf",
};

/** The unit of force that a text names, in any usual spelling; undefined where it names none. */
export function forceUnitNamed(text: string): ForceUnit | undefined {
  const key = text.trim().toLowerCase();
  return Object.hasOwn(SPELLINGS, key) ? SPELLINGS[key] : undefined;
}

/**
 * Factor from a unit of force to newtons: `force in N = factor * force`.
 *
 * @param unit Name of the unit: N, kN, kgf (also kg, kp) or lbf (also lb), in any case, no unit.
 * @returns Newtons in one such unit, N.
 * @throws {InputError} `unknown-name` if the unit is none of these.
 */
export function forceScale(unit: string): number {
  const known = forceUnitNamed(unit);
  if (known === undefined) {
    throw new InputError("unknown-name", `a force requires one of the units ${FORCE_UNITS.join(", ")}`, unit);
  }
  return NEWTONS_PER[known];
}
