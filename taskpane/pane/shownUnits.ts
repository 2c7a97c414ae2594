import { unitForm } from "../../src/catalogue/units.ts";
import type { UnitChoice } from "./withUnits.ts";

/** The units of the calculation. */
export const SI: UnitChoice = { m: "m", s: "s", kg: "kg" };

/** A unit with its factor: a value in SI times the factor is the value in the unit. */
export interface ShownUnit {
  readonly unit: string;
  readonly factor: number;
}

interface Quantity {
  readonly value: number;
  readonly unit: string;
  /** Standard uncertainty, in the unit of the value. */
  readonly u?: number;
}

/** The unit in which a person reads what is in `unit`; only lengths, times and masses in SI have a choice. */
export function shownUnit(unit: string, units: UnitChoice): ShownUnit {
  return unit === "m" || unit === "s" || unit === "kg" ? unitForm(unit, units[unit])! : { unit, factor: 1 };
}

/** A quantity as a person reads it. What is computed and stored stays SI. */
export function inUnits({ value, unit, u }: Quantity, units: UnitChoice): Quantity {
  const { factor, unit: shown } = shownUnit(unit, units);
  return { value: value * factor, unit: shown, ...(u === undefined ? {} : { u: u * factor }) };
}
