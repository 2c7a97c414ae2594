import type { Settings } from "./Settings.ts";
import { InputError } from "../errors.ts";
import { settingsFrom } from "./settingsFrom.ts";

/**
 * Settings from the rows of a sheet: id in the first column, value in the second, anything after.
 *
 * A head row (its first cell is “id” or “setting”) and rows without an id are passed over.
 *
 * @param rows Cell values as a host hands them over; no unit.
 * @returns Complete settings with their digest.
 * @throws {InputError} `wrong-shape` if the range has fewer than two columns.
 * @throws {InputError} `unknown-name`, `out-of-range` as `settingsFrom`, which names the id.
 */
export function settingsFromRows(rows: readonly (readonly unknown[])[]): Settings {
  const entries: [string, string | number][] = [];
  for (const [index, row] of rows.entries()) {
    const id = String(row[0] ?? "").trim();
    if (id === "" || id === "0") continue;
    if (index === 0 && /^(id|settings?)$/i.test(id)) continue;
    if (row.length < 2) throw new InputError("wrong-shape", "settings require two columns, id and value");
    const value = row[1];
    if (typeof value === "string" || typeof value === "number") entries.push([id, value]);
    else if (value === null || value === undefined) entries.push([id, ""]);
    else throw new InputError("wrong-shape", `settings require text or a number for ${id}`, `row ${index + 1}`);
  }
  return settingsFrom(entries);
}
