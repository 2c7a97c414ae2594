import { InputError } from "../errors.ts";
import { PLATE_ROLES } from "../trace/Trace.ts";
import { FORCE_UNITS } from "../trace/units.ts";
import { DELIMITERS, TIME_UNITS, type ColumnRef, type ForceSource, type ImportRecipe } from "./ImportRecipe.ts";

/** Longer than any name of a column or a sheet. */
const LONGEST = 1000;
const MOST_FORCES = 16;

const text = (value: unknown): value is string => typeof value === "string" && value.length <= LONGEST;
const count = (value: unknown): boolean => typeof value === "number" && Number.isInteger(value) && value >= 0;
const column = (value: unknown): value is ColumnRef => text(value) || (count(value) && value !== 0);
const among = (words: readonly string[]) => (value: unknown): boolean => words.includes(value as string);
const source = (value: unknown): value is ForceSource => isRecord(value) && column(value.column) && among(PLATE_ROLES)(value.role);

/** What each part of a recipe may be. */
const PARTS: { readonly [Part in keyof Required<ImportRecipe>]: (value: unknown) => boolean } = {
  sheet: text,
  delimiter: among(DELIMITERS),
  decimal: among([".", ","]),
  headerLines: count,
  time: column,
  timeUnit: among(TIME_UNITS),
  rate: (value) => typeof value === "number" && value > 0 && value < Infinity,
  forces: (value) => Array.isArray(value) && value.length <= MOST_FORCES && value.every(source),
  unit: among(FORCE_UNITS),
  invert: (value) => typeof value === "boolean",
};

/**
 * A recipe out of what was kept as text, where a person or another program may have changed it.
 *
 * Parts that are not known are left out, so that a recipe of a later version still reads what it can.
 *
 * @param kept The parsed text, no unit.
 * @returns The recipe.
 * @throws {InputError} `wrong-shape` if it is no recipe, or one of its parts cannot be.
 */
export function recipeFrom(kept: unknown): ImportRecipe {
  if (!isRecord(kept)) throw new InputError("wrong-shape", "a recipe requires parts with names, and this is something else");
  const parts = Object.keys(PARTS) as (keyof ImportRecipe)[];
  const given = parts.filter((part) => Object.hasOwn(kept, part) && kept[part] !== undefined);
  const wrong = given.find((part) => !PARTS[part](kept[part]));
  if (wrong !== undefined) throw new InputError("wrong-shape", `a recipe requires another ${wrong} than the one that was kept`);
  return Object.fromEntries(given.map((part) => [part, kept[part]]));
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}
