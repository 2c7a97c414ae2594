import { InputError } from "../../src/errors.ts";
import type { Cell } from "./cells.ts";
import { quoted, singleFrom, textFrom } from "./cells.ts";

/** The quantities of one result by name; `undefined` for what this input does not give. */
export type Quantities = Readonly<Record<string, Cell | undefined>>;

/**
 * What a function with several results gives: one of them by name, or all as a table of names and
 * values ("table").
 *
 * @throws {InputError} `unknown-name` with the names; `not-available` for one that this input does not give.
 */
export function pickWhat(quantities: Quantities, what: unknown, fallback: string): Cell[][] {
  const wanted = textFrom(singleFrom(what, "what"), "what") ?? fallback;
  const plain = (name: string) => name.replace(/[\s_-]/g, "").toLowerCase();
  if (plain(wanted) === "table") return Object.entries(quantities).flatMap(([name, value]) => (value === undefined ? [] : [[name, value]]));
  const names = Object.keys(quantities);
  const name = names.find((candidate) => plain(candidate) === plain(wanted));
  if (name === undefined) throw new InputError("unknown-name", `what requires table or one of ${names.join(", ")}, not ${quoted(wanted)}`);
  const value = quantities[name];
  if (value === undefined) throw new InputError("not-available", `${name} requires an argument that was left out`);
  return [[value]];
}
