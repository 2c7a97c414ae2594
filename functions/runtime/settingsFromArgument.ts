import type { Settings } from "../../src/settings/Settings.ts";
import { DEFAULT_SETTINGS } from "../../src/settings/defaultSettings.ts";
import { settingsFromRows } from "../../src/settings/settingsFromRows.ts";
import { isGiven, rowsFrom, throwIfError } from "./cells.ts";

let lastKey: string | undefined;
let lastSettings: Settings = DEFAULT_SETTINGS;

/**
 * Settings from the range of the Settings sheet (id, value, …); a left-out or blank range means the
 * defaults. The last range read is kept, since every formula of a sheet passes the same one.
 */
export function settingsFromArgument(value: unknown): Settings {
  const rows = rowsFrom(value);
  if (rows.length === 0 || !rows.some((row) => isGiven(row[0]))) return DEFAULT_SETTINGS;
  let key = "";
  for (const row of rows) {
    throwIfError(row[0]);
    throwIfError(row[1]);
    key += `${typeof row[1]} ${String(row[0])}\u0001${String(row[1])}\u0002`;
  }
  if (key !== lastKey) {
    lastSettings = settingsFromRows(rows);
    lastKey = key;
  }
  return lastSettings;
}
